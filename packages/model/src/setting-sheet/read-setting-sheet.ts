import type { Tag } from "@earthbell/engine";
import type * as z from "zod";
import type { ReadOptions } from "../door/open-document.ts";
import { readRecord, type Format } from "../door/read-record.ts";
import type { ReadResult } from "../faults/input-fault.ts";
import { SETTING_SHEET_FORMAT, settingSheetFile } from "./setting-sheet-file.ts";

/** A team's own steps for one family of devices. */
export interface SettingSheet {
  readonly id: string;
  readonly device: { readonly family: string; readonly firmware?: string };
  readonly by: string;
  /** YYYY-MM-DD. */
  readonly reviewedOn: string;
  readonly cautions: readonly string[];
  readonly steps: readonly {
    readonly do: string;
    readonly shows?: string;
    readonly value?: string;
    readonly why?: string;
    readonly caution?: string;
    readonly source: string;
    readonly tag: Tag;
  }[];
}

const settingSheetFormat: Format<z.output<typeof settingSheetFile>, SettingSheet> = {
  name: SETTING_SHEET_FORMAT,
  fields: settingSheetFile,
  consistency: () => [],
  record: ({ id, device, by, reviewedOn, cautions = [], steps }) => ({
    id,
    device,
    by,
    reviewedOn,
    cautions,
    steps,
  }),
};

/**
 * Reads one setting sheet (`earthbell.setting-sheet/1`, YAML or JSON).
 *
 * @returns the sheet, or every fault of the file at once in order of line. Never throws.
 */
export function readSettingSheet(
  source: string | Uint8Array,
  file: string,
  options: ReadOptions = {},
): ReadResult<SettingSheet> {
  return readRecord(settingSheetFormat, source, file, options);
}
