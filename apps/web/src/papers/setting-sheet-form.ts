import type { SettingSheet, TypedSettingSheet } from "@earthbell/model";

/** One step of a setting sheet, as it stands in the form. */
export interface SheetStep {
  readonly key: string;
  readonly do: string;
  readonly shows: string;
  readonly value: string;
  readonly why: string;
  readonly caution: string;
  readonly source: string;
  readonly tag: string;
}

/** The form of a setting sheet: everything as it was typed. */
export interface SheetForm {
  /** Revision from which it was begun; null: a new sheet. */
  readonly from: number | null;
  readonly id: string;
  readonly family: string;
  readonly firmware: string;
  readonly by: string;
  readonly reviewedOn: string;
  /** One a line. */
  readonly cautions: string;
  readonly steps: readonly SheetStep[];
}

export type ChangeSheet = (how: (form: SheetForm) => SheetForm) => void;

export function blankStep(key: string): SheetStep {
  return { key, do: "", shows: "", value: "", why: "", caution: "", source: "", tag: "user" };
}

export const BLANK_SHEET: SheetForm = {
  from: null,
  id: "",
  family: "",
  firmware: "",
  by: "",
  reviewedOn: "",
  cautions: "",
  steps: [blankStep("first")],
};

function filled(fields: Readonly<Record<string, string>>): Readonly<Record<string, string>> {
  const entries = Object.entries(fields).map(([name, text]) => [name, text.trim()] as const);
  return Object.fromEntries(entries.filter(([, text]) => text !== ""));
}

/** What is typed, as the writer of files takes it. */
export function typedSheet({
  family,
  firmware,
  cautions,
  steps,
  id,
  by,
  reviewedOn,
}: SheetForm): TypedSettingSheet {
  return {
    ...filled({ id, by, reviewedOn }),
    device: filled({ family, firmware }),
    cautions: cautions
      .split("\n")
      .map((line) => line.trim())
      .filter(Boolean),
    steps: steps.map(({ key: _, ...words }) => filled(words)),
  };
}

/** The form that a sheet fills in, of that revision. */
export function formOfSheet(
  { id, device, by, reviewedOn, cautions, steps }: SettingSheet,
  from: number | null,
): SheetForm {
  return {
    from,
    ...{ id, by, reviewedOn, family: device.family, firmware: device.firmware ?? "" },
    cautions: cautions.join("\n"),
    steps: steps.map((step, at) => ({ ...blankStep(`sheet-${at}`), ...step })),
  };
}

/** The steps with one of them further up or down; unchanged at either end. */
export function movedStep(steps: readonly SheetStep[], key: string, by: -1 | 1): readonly SheetStep[] {
  const at = steps.findIndex((step) => step.key === key);
  const to = at + by;
  if (at < 0 || to < 0 || to >= steps.length) return steps;
  const others = steps.filter((step) => step.key !== key);
  return [...others.slice(0, to), steps[at]!, ...others.slice(to)];
}
