import { flowText, listText } from "../yaml/flow-text.ts";
import { SETTING_SHEET_FORMAT } from "./setting-sheet-file.ts";

/** A setting sheet as somebody has typed it so far; the reader of files says what is missing or wrong. */
export interface TypedSettingSheet {
  readonly id?: string;
  readonly device: { readonly family?: string; readonly firmware?: string };
  readonly by?: string;
  readonly reviewedOn?: string;
  readonly cautions: readonly string[];
  readonly steps: readonly object[];
}

/** What was typed, as the file (`earthbell.setting-sheet/1`) that a person would write: one step a line. */
export function settingSheetText(typed: TypedSettingSheet): string {
  const { id, device, by, reviewedOn, cautions, steps } = typed;
  const single = Object.entries({ id, device, by, reviewedOn }).filter(([, value]) => value !== undefined);
  const lines = [
    `format: ${SETTING_SHEET_FORMAT}`,
    ...single.map(([field, value]) => `${field}: ${flowText(value)}`),
    ...listText("cautions", cautions),
    ...listText("steps", steps),
  ];
  return `${lines.join("\n")}\n`;
}
