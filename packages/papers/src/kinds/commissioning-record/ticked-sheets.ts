import type { Commissioning, HeldSheet } from "@earthbell/model";

export type Ticked = Commissioning["settings"][number];

/** A setting sheet in a record: what was ticked, and how that stands to the sheet as it is held now. */
export interface TickedSheet {
  readonly ticked: Ticked;
  /** The sheet with the very words that were ticked; null: it is not at hand. */
  readonly same: HeldSheet | null;
  /** The sheet under the same short name with other words; null: there is none. */
  readonly changed: HeldSheet | null;
}

/** The sheets that results name; then those that were given with nothing of them ticked. */
export function settingsOf(
  results: Commissioning | null,
  sheets: readonly HeldSheet[],
): readonly TickedSheet[] {
  const named = results?.settings ?? [];
  const untouched = sheets.filter(({ sheet }) => !named.some((one) => one.sheet === sheet.id));
  return [
    ...named.map((ticked) => {
      const held = sheets.filter(({ sheet }) => sheet.id === ticked.sheet);
      const same = held.find(({ digest }) => digest === ticked.digest) ?? null;
      return { ticked, same, changed: same === null ? (held[0] ?? null) : null };
    }),
    ...untouched.map((same) => ({ ticked: untickedOf(same), same, changed: null })),
  ];
}

function untickedOf({ sheet, revision, digest }: HeldSheet): Ticked {
  return {
    ...{ sheet: sheet.id, title: sheet.device.family, digest },
    ...(revision === null ? {} : { revision }),
    steps: sheet.steps.map((step, at) => ({ step: at + 1, do: step.do })),
  };
}

/** `setting sheet gannet, revision 2, on INV1`. */
export function sheetName({ sheet, revision, device }: Ticked): string {
  const which = revision === undefined ? "" : `, revision ${revision}`;
  return `setting sheet ${sheet}${which}${device === undefined ? "" : `, on ${device}`}`;
}
