import {
  duplicateIds,
  entriesOf,
  entryOf,
  idsOfRequired,
  repeatedReferences,
  textsOf,
  unknownReferences,
  type Entry,
} from "../fields/entries.ts";
import type { FieldFault } from "../fields/field-fault.ts";
import { MOST_MODULES_IN_SERIES } from "../site/site-file.ts";
import { type LookAtPhoto, photoFaults } from "./photo-paths.ts";
import { readingFaults, type Wiring } from "./readings.ts";

/** What the schema cannot see: ids, references, and readings that do not fit the wiring or the instruments. */
export function* visitConsistency(
  data: Readonly<Record<string, unknown>>,
  look?: LookAtPhoto,
): Generator<FieldFault> {
  const root: Entry = { path: [], fields: data };
  const strings = entriesOf(root, "strings");
  const circuits = entriesOf(root, "circuits");
  const wiring = wiringOf(strings, circuits);
  const known = idsOfRequired(strings);
  yield* duplicateIds([...strings, ...circuits], "String or circuit");
  for (const string of strings) yield* moduleVocsFault(string);
  for (const circuit of circuits) {
    const written = textsOf(circuit, "strings");
    yield* unknownReferences(written, known, "string");
    yield* repeatedReferences(written);
  }
  yield* inTwoCircuits(circuits);
  yield* priorsFault(root);
  const earth = entryOf(root, "functionalEarth");
  const places = known && new Set([...known, ...wiring.circuits.keys()]);
  if (earth) yield* unknownReferences(textsOf(earth, "on"), places, "string or circuit");
  yield* readingFaults(root, wiring);
  yield* photoFaults(root, look);
}

function isSeries(modules: unknown): modules is number {
  return (
    Number.isInteger(modules) && (modules as number) >= 1 && (modules as number) <= MOST_MODULES_IN_SERIES
  );
}

function wiringOf(strings: readonly Entry[], circuits: readonly Entry[]): Wiring {
  const modulesOf = ({ fields: { modules } }: Entry): number | undefined =>
    isSeries(modules) ? modules : undefined;
  return {
    strings: new Map(
      strings.flatMap((string) => textsOf(string, "id").map(({ text }) => [text, modulesOf(string)])),
    ),
    circuits: new Map(
      circuits.flatMap((circuit) =>
        textsOf(circuit, "id").map(({ text }) => [
          text,
          new Set(textsOf(circuit, "strings").map((member) => member.text)),
        ]),
      ),
    ),
  };
}

function* moduleVocsFault(string: Entry): Generator<FieldFault> {
  const { modules, moduleVocs } = string.fields;
  if (!Array.isArray(moduleVocs) || !isSeries(modules) || moduleVocs.length === modules) return;
  const path = [...string.path, "moduleVocs"];
  const allowed = `${String(modules)} voltages`;
  const message = `The string has ${String(modules)} modules, and ${moduleVocs.length} voltages are listed.`;
  yield { code: "VISIT_MODULE_VOCS_LENGTH", path, part: "value", value: moduleVocs, allowed, message };
}

function* inTwoCircuits(circuits: readonly Entry[]): Generator<FieldFault> {
  const home = new Map<string, Entry>();
  for (const circuit of circuits) {
    for (const { path, text } of textsOf(circuit, "strings")) {
      const first = home.get(text) ?? circuit;
      home.set(text, first);
      const message = `${text} is already in another circuit.`;
      const fault = {
        path,
        part: "value",
        value: text,
        allowed: "each string in one circuit",
        message,
      } as const;
      if (first !== circuit) yield { code: "VISIT_STRING_IN_TWO_CIRCUITS", ...fault };
    }
  }
}

function* priorsFault(root: Entry): Generator<FieldFault> {
  const priors = entryOf(root, "priors");
  const weights = Object.values(priors?.fields ?? {});
  if (!priors || weights.length === 0 || weights.some((weight) => weight !== 0)) return;
  const message = "Every weight is zero, so that no place is possible.";
  const allowed = "at least one weight above 0";
  yield {
    code: "VISIT_PRIORS_ALL_ZERO",
    path: priors.path,
    part: "value",
    value: priors.fields,
    allowed,
    message,
  };
}
