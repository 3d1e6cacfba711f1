import { flowText, listText } from "../yaml/flow-text.ts";
import { COMMISSIONING_FORMAT } from "./commissioning-file.ts";
import type { Commissioning } from "./read-commissioning.ts";
import type { TypedResult } from "./judge-results.ts";

/** Results of a commissioning as somebody has typed them so far; the reader of files says what is missing or wrong. */
export interface TypedCommissioning {
  readonly site: string;
  readonly on?: string;
  readonly by: { readonly name?: string; readonly licence?: string };
  readonly conditions: readonly object[];
  readonly instruments: readonly object[];
  readonly results: readonly TypedResult[];
  readonly settings: readonly object[];
  readonly drills: readonly object[];
  readonly signatures: readonly object[];
}

/** What was typed, as the file (`earthbell.commissioning/1`) that a person would write: one entry a line. */
export function commissioningText(typed: TypedCommissioning): string {
  const { site, on, by, conditions, instruments, results, settings, drills, signatures } = typed;
  const lines = [
    `format: ${COMMISSIONING_FORMAT}`,
    `site: ${flowText(site)}`,
    ...(on === undefined ? [] : [`on: ${flowText(on)}`]),
    `by: ${flowText(by)}`,
    ...listText("conditions", conditions),
    ...listText("instruments", instruments),
    ...listText("results", results),
    ...settingsText(settings),
    ...listText("drills", drills),
    ...listText("signatures", signatures),
  ];
  return `${lines.join("\n")}\n`;
}

/** Each sheet with one step a line: a line of all steps could not be read. */
function settingsText(settings: readonly object[]): readonly string[] {
  if (settings.length === 0) return [];
  return [
    "settings:",
    ...settings.flatMap((one) =>
      Object.entries(one).flatMap(([field, value]: [string, unknown], at) => {
        const lead = at === 0 ? "  - " : "    ";
        if (field !== "steps" || !Array.isArray(value)) return [`${lead}${field}: ${flowText(value)}`];
        return [`${lead}steps:`, ...value.map((step) => `      - ${flowText(step)}`)];
      }),
    ),
  ];
}

/** A record as it would be typed: temperatures with their unit again. */
export function typedCommissioning({ conditions, ...rest }: Commissioning): TypedCommissioning {
  const celsius = (field: "air" | "module", value: number | undefined): object =>
    value === undefined ? {} : { [field]: `${value} °C` };
  return {
    ...rest,
    conditions: conditions.map(({ air, module, ...others }) => ({
      ...others,
      ...celsius("air", air),
      ...celsius("module", module),
    })),
  };
}
