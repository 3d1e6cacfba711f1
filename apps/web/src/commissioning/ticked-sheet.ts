import type { Commissioning, SettingSheet } from "@earthbell/model";
import { clockWords, dayOf } from "../desk/instant.ts";

export type TickedSheet = Commissioning["settings"][number];

/** A setting sheet as the desk holds it. */
export interface SheetAtDesk {
  readonly sheet: string;
  readonly family: string;
  readonly revision: number | null;
  readonly digest: string;
  readonly holds: SettingSheet;
}

/** What a step says; all but what to do is unknown where it comes from a file of results. */
export type StepWords = Pick<SettingSheet["steps"][number], "do"> & Partial<SettingSheet["steps"][number]>;

/** One step of a sheet with its tick, as it stands in the form. */
export interface TickEntry {
  readonly words: StepWords;
  readonly ticked: boolean;
  /** Empty: whoever did the work. */
  readonly by: string;
  readonly on: string;
  readonly at: string;
  readonly found: string;
  readonly because: string;
}

/** A setting sheet that is ticked on one device. */
export interface SheetEntry {
  readonly key: string;
  readonly sheet: string;
  readonly title: string;
  readonly revision: number | null;
  readonly digest: string;
  readonly device: string;
  readonly firmware: string;
  /** Before the first step; null: unknown, it comes from a file of results. */
  readonly cautions: readonly string[] | null;
  readonly steps: readonly TickEntry[];
}

const UNTICKED = { ticked: false, by: "", on: "", at: "", found: "", because: "" } as const;

/** A sheet of the desk with nothing ticked. */
export function untickedSheet(
  { sheet, family, revision, digest, holds }: SheetAtDesk,
  key: string,
): SheetEntry {
  return {
    ...{ key, sheet, title: family, revision, digest, device: "", firmware: "" },
    cautions: holds.cautions,
    steps: holds.steps.map((words) => ({ words, ...UNTICKED })),
  };
}

/** The same words as the desk holds them now, cautions included; null: it holds others, or none. */
export function withWords(entry: SheetEntry, held: SheetAtDesk | undefined): SheetEntry | null {
  if (held?.digest !== entry.digest || held.holds.steps.length !== entry.steps.length) return null;
  const { cautions, steps } = held.holds;
  return { ...entry, cautions, steps: entry.steps.map((one, at) => ({ ...one, words: steps[at]! })) };
}

/** The sheet as it is held now: a tick stays where some step before read the same in every word, and goes elsewhere. */
export function retaken(entry: SheetEntry, held: SheetAtDesk): SheetEntry {
  const { key, device, firmware } = entry;
  const before = [...entry.steps];
  const fresh = untickedSheet(held, key);
  const steps = fresh.steps.map((one) => {
    const alike = before.findIndex(({ words }) => wordsOf(words) === wordsOf(one.words));
    return alike < 0 ? one : before.splice(alike, 1)[0]!;
  });
  return { ...fresh, device, firmware, steps };
}

function wordsOf({ do: text, shows, value, why, caution, source, tag }: StepWords): string {
  return JSON.stringify([text, shows, value, why, caution, source, tag]);
}

/** A tick, as of now. */
export function tickedNow(entry: TickEntry, by: string, now: Date): TickEntry {
  return { ...entry, ticked: true, by, on: dayOf(now.getTime()), at: clockWords(now.getTime()) };
}

export function unticked(entry: TickEntry): TickEntry {
  return { ...entry, ticked: false, by: "", on: "", at: "" };
}

function filled(fields: Readonly<Record<string, string>>): Readonly<Record<string, string>> {
  const entries = Object.entries(fields).map(([name, text]) => [name, text.trim()] as const);
  return Object.fromEntries(entries.filter(([, text]) => text !== ""));
}

/** @param name  who did the work, for ticks without a name of their own */
export function typedSheet(entry: SheetEntry, name: string): object {
  const { sheet, title, revision, digest, device, firmware, steps } = entry;
  return {
    ...{ sheet, title },
    ...(revision === null ? {} : { revision }),
    ...{ digest, ...filled({ device, firmware }) },
    steps: steps.map((one, at) => ({ step: at + 1, do: one.words.do, ...typedTick(one, name) })),
  };
}

function typedTick({ ticked, by, on, at, found, because }: TickEntry, name: string): object {
  const who = { on, at, found };
  if (ticked) return { done: true, ...filled({ by: by.trim() === "" ? name : by, ...who }) };
  if (because.trim() === "") return filled({ found });
  return { done: false, ...filled({ by, ...who, because }) };
}

/** The entry that a sheet in a file of results fills in. */
export function sheetEntryOf(
  { sheet, title, revision, digest, device, firmware, steps }: TickedSheet,
  key: string,
): SheetEntry {
  return {
    ...{ key, sheet, title, revision: revision ?? null, digest },
    ...{ device: device ?? "", firmware: firmware ?? "", cautions: null },
    steps: steps.map((one) => ({
      words: { do: one.do },
      ticked: one.done === true,
      ...{ by: one.by ?? "", on: one.on ?? "", at: one.at ?? "" },
      ...{ found: one.found ?? "", because: one.because ?? "" },
    })),
  };
}
