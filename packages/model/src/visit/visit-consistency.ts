import {
  duplicateIds,
  entriesOf,
  entryOf,
  repeatedReferences,
  textsOf,
  unknownReferences,
  type Entry,
} from "../fields/entries.ts";
import type { FieldFault } from "../fields/field-fault.ts";
import { readingFaults, type Wiring } from "./readings.ts";

/** What the schema cannot see: ids, references, and readings that do not fit the wiring or the instruments. */
export function visitConsistency(data: Readonly<Record<string, unknown>>): FieldFault[] {
  const root: Entry = { path: [], fields: data };
  const strings = entriesOf(root, "strings");
  const circuits = entriesOf(root, "circuits");
  const wiring = wiringOf(strings, circuits);
  const known = new Set(wiring.strings.keys());
  return [
    ...duplicateIds([...strings, ...circuits], "String or circuit"),
    ...strings.flatMap(moduleVocsFault),
    ...circuits.flatMap((circuit) => {
      const written = textsOf(circuit, "strings");
      return [...unknownReferences(written, known, "string"), ...repeatedReferences(written)];
    }),
    ...inTwoCircuits(circuits),
    ...priorsFault(root),
    ...readingFaults(root, wiring),
  ];
}

function wiringOf(strings: readonly Entry[], circuits: readonly Entry[]): Wiring {
  const modulesOf = ({ fields: { modules } }: Entry): number | undefined =>
    Number.isInteger(modules) ? (modules as number) : undefined;
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

function moduleVocsFault(string: Entry): FieldFault[] {
  const { modules, moduleVocs } = string.fields;
  if (!Array.isArray(moduleVocs) || !Number.isInteger(modules) || moduleVocs.length === modules) return [];
  const message = `The string has ${String(modules)} modules, and ${moduleVocs.length} voltages are listed.`;
  const path = [...string.path, "moduleVocs"];
  return [
    {
      code: "VISIT_MODULE_VOCS_LENGTH",
      path,
      part: "value",
      value: moduleVocs,
      allowed: `${String(modules)} voltages`,
      message,
    },
  ];
}

function inTwoCircuits(circuits: readonly Entry[]): FieldFault[] {
  const home = new Map<string, number>();
  return circuits.flatMap((circuit, at) =>
    textsOf(circuit, "strings").flatMap(({ path, text }) => {
      const first = home.get(text) ?? at;
      home.set(text, first);
      if (first === at) return [];
      const message = `${text} is already in another circuit.`;
      return [
        {
          code: "VISIT_STRING_IN_TWO_CIRCUITS",
          path,
          part: "value",
          value: text,
          allowed: "each string in one circuit",
          message,
        },
      ];
    }),
  );
}

function priorsFault(root: Entry): FieldFault[] {
  const priors = entryOf(root, "priors");
  const weights = Object.values(priors?.fields ?? {});
  if (!priors || weights.length === 0 || weights.some((weight) => weight !== 0)) return [];
  const message = "Every weight is zero, so that no place is possible.";
  return [
    {
      code: "VISIT_PRIORS_ALL_ZERO",
      path: priors.path,
      part: "value",
      value: priors.fields,
      allowed: "at least one weight above 0",
      message,
    },
  ];
}
