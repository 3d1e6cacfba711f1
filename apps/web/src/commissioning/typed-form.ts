import type { TypedCommissioning, TypedResult } from "@earthbell/model";
import type { EntryNames } from "../engine/commissioning-jobs.ts";
import {
  type Answer,
  BLANK_CONDITION,
  type CommissioningForm,
  type DrillEntry,
  type InstrumentEntry,
  type ResultEntry,
  type SignatureEntry,
} from "./commissioning-form.ts";
import { sheetEntryOf, type TickedSheet, typedSheet } from "./ticked-sheet.ts";

/** What is typed, without what is empty, and which entry of the form each entry of the file is. */
interface TypedForm {
  readonly typed: TypedCommissioning;
  readonly names: EntryNames;
}

/** The field of the form at which a field of the file stands: `result:KEY.reading` for `results[3].reading`. */
export function placeOf(names: EntryNames, field: string): string {
  return field.replace(
    /^(results|drills|signatures)\[(\d+)\]/u,
    (whole, list: keyof EntryNames, at: string) => {
      const name = names[list][Number(at)];
      return name === undefined ? whole : `${KINDS[list]}:${name}`;
    },
  );
}

const KINDS = { results: "result", drills: "drill", signatures: "signature" } as const;

/** What stands in the fields of a form, without those that are empty. */
type Filled = Readonly<Record<string, string>>;

function filled(fields: Readonly<Record<string, string>>): Filled {
  const entries = Object.entries(fields).map(([name, text]) => [name, text.trim()] as const);
  return Object.fromEntries(entries.filter(([, text]) => text !== ""));
}

const NUMBER = /^[+-]?\d+(?:\.\d+)?$/u;
const celsius = (text: string): string => (NUMBER.test(text.trim()) ? `${text.trim()} °C` : text);
const numeric = (text: string): number | string => (NUMBER.test(text) ? Number(text) : text);

function answered(field: string, answer: Answer): Readonly<Record<string, boolean>> {
  return answer === "" ? {} : { [field]: answer === "yes" };
}

/** The reading with the unit that was chosen beside it, where none was typed. */
export function readingText({ reading, unit }: Pick<ResultEntry, "reading" | "unit">): string {
  const text = reading.trim();
  return text === "" || unit === "" || !/\d$/u.test(text) ? text : `${text} ${unit}`;
}

/** Whether somebody has entered something there. */
function isEntered({ reading, passed, at, note, limit, limitFrom }: ResultEntry): boolean {
  return passed !== "" || [reading, at, note, limit, limitFrom].some((text) => text.trim() !== "");
}

/** @param hasFigure  whether the line of a result is read off an instrument; else a tick alone says what was seen */
function typedResult(entry: ResultEntry, hasFigure: boolean): TypedResult {
  const { array, path, step, line, at, limit, limitFrom, passed, note } = entry;
  const seen = passed === "yes" ? "as it should be" : "not as it should be";
  const reading = readingText(entry) || (hasFigure || passed === "" ? "" : seen);
  return {
    array,
    ...(path === null ? {} : { path }),
    step,
    ...(line === null ? {} : { line }),
    ...filled({ at, reading, with: entry.with, limit, limitFrom, note }),
    ...answered("passed", passed),
  };
}

function typedInstrument(one: InstrumentEntry): object {
  const { id, what, number, calibrated, provedBefore, provedAfter } = one;
  return { ...filled({ id, what, number, calibrated }), provedBefore, provedAfter };
}

function typedDrill({ proved, ...words }: DrillEntry): object {
  return { ...filled({ ...words }), ...answered("proved", proved) };
}

function isDrill({ raised, acknowledgedBy, acknowledged, proved, note }: DrillEntry): boolean {
  return proved !== "" || [raised, acknowledgedBy, acknowledged, note].some((text) => text.trim() !== "");
}

const isSignature = ({ name, on }: SignatureEntry): boolean => name.trim() !== "" || on !== "";

/** What is typed in a form of a site, as the writer of files takes it. */
export function typedForm(
  site: string,
  form: CommissioningForm,
  hasFigure: (entry: ResultEntry) => boolean,
): TypedForm {
  const results = form.results.filter(isEntered);
  const drills = form.drills.filter(isDrill);
  const signatures = form.signatures.filter(isSignature);
  return {
    typed: {
      site,
      ...filled({ on: form.on }),
      by: filled({ name: form.name, licence: form.licence }),
      conditions: form.conditions.map(({ air, module, irradiance, ...words }) => ({
        ...filled({ ...words, air: celsius(air), module: celsius(module) }),
        ...(irradiance.trim() === "" ? {} : { irradiance: numeric(irradiance.trim()) }),
      })),
      instruments: form.instruments.map(typedInstrument),
      results: results.map((entry) => typedResult(entry, hasFigure(entry))),
      settings: form.settings.map((one) => typedSheet(one, form.name)),
      drills: drills.map(typedDrill),
      signatures: signatures.map((one) => ({ as: one.as, ...filled({ name: one.name, on: one.on }) })),
    },
    names: {
      results: results.map(({ key }) => key),
      drills: drills.map(({ path }) => path),
      signatures: signatures.map((one) => one.as),
    },
  };
}

const text = (value: unknown): string =>
  typeof value === "string" || typeof value === "number" ? String(value) : "";
const answer = (value: unknown): Answer => (value === true ? "yes" : value === false ? "no" : "");

type Fields = Readonly<Record<string, unknown>>;

function texts<Name extends string>(fields: Fields, names: readonly Name[]): Record<Name, string> {
  return Object.fromEntries(names.map((name) => [name, text(fields[name])])) as Record<Name, string>;
}

/** The form that a file of results fills in. */
export function formOf(typed: TypedCommissioning): CommissioningForm {
  const condition = Object.keys(BLANK_CONDITION) as (keyof typeof BLANK_CONDITION)[];
  return {
    on: text(typed.on),
    name: text(typed.by.name),
    licence: text(typed.by.licence),
    conditions: (typed.conditions as readonly Fields[]).map((one) => texts(one, condition)),
    instruments: (typed.instruments as readonly Fields[]).map((one) => ({
      ...texts(one, ["id", "what", "number", "calibrated"]),
      provedBefore: one["provedBefore"] === true,
      provedAfter: one["provedAfter"] === true,
    })),
    results: typed.results.map((one, at) => ({
      ...{
        key: `file-${at}`,
        array: one.array,
        path: one.path ?? null,
        step: one.step,
        line: one.line ?? null,
      },
      ...texts({ ...one }, ["at", "reading", "with", "limit", "limitFrom", "note"]),
      unit: "",
      passed: answer(one.passed),
    })),
    settings: (typed.settings as readonly TickedSheet[]).map((one, at) => sheetEntryOf(one, `file-${at}`)),
    drills: (typed.drills as readonly Fields[]).map((one) => ({
      ...texts(one, ["path", "raised", "acknowledgedBy", "acknowledged", "note"]),
      proved: answer(one["proved"]),
    })),
    signatures: (typed.signatures as readonly Fields[]).map((one) => ({
      as: one["as"] as SignatureEntry["as"],
      ...texts(one, ["name", "on"]),
    })),
    ticks: [],
  };
}
