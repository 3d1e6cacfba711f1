import { parseQuantity } from "@earthbell/engine";
import {
  duplicateIds,
  entriesOf,
  entryOf,
  idsOf,
  repeatedReferences,
  textsOf,
  unknownReferences,
  type Entry,
} from "../fields/entries.ts";
import type { FieldFault } from "../fields/field-fault.ts";
import { isDay } from "../fields/plain-fields.ts";

/** What the schema cannot see: ids, references, and fields that contradict one another. */
export function siteConsistency(data: Readonly<Record<string, unknown>>): FieldFault[] {
  const root: Entry = { path: [], fields: data };
  const [modules, inverters, arrays] = [
    entriesOf(root, "modules"),
    entriesOf(root, "inverters"),
    entriesOf(root, "arrays"),
  ];
  const [people, paths, proofs] = [
    entriesOf(root, "people"),
    entriesOf(root, "paths"),
    entriesOf(root, "proofs"),
  ];
  const ids = {
    module: idsOf(modules),
    inverter: idsOf(inverters),
    array: idsOf(arrays),
    person: idsOf(people),
    path: idsOf(paths),
  };
  return [
    ...duplicateIds(modules, "Module"),
    ...duplicateIds(inverters, "Inverter"),
    ...duplicateIds(arrays, "Array"),
    ...duplicateIds(people, "Person"),
    ...duplicateIds(paths, "Path"),
    ...arrays.flatMap((array) => [
      ...duplicateIds(entriesOf(array, "strings"), "String"),
      ...unknownReferences(textsOf(array, "module"), ids.module, "module"),
      ...unknownReferences(textsOf(array, "inverter"), ids.inverter, "inverter"),
      ...datesReversed(array, "installed", "altered"),
    ]),
    ...people.flatMap((person) =>
      entriesOf(person, "away").flatMap((away) => datesReversed(away, "from", "to")),
    ),
    ...paths.flatMap((path) => [
      ...references(path, "arrays", ids.array, "array"),
      ...references(path, "to", ids.person, "person"),
      ...supplyReversed(path),
    ]),
    ...proofs.flatMap((proof) => unknownReferences(textsOf(proof, "path"), ids.path, "path")),
  ];
}

function references(entry: Entry, field: string, known: ReadonlySet<string>, what: string): FieldFault[] {
  const written = textsOf(entry, field);
  return [...unknownReferences(written, known, what), ...repeatedReferences(written)];
}

function datesReversed(entry: Entry, earlier: string, later: string): FieldFault[] {
  const [first, last] = [entry.fields[earlier], entry.fields[later]];
  if (typeof first !== "string" || typeof last !== "string") return [];
  if (!isDay(first) || !isDay(last) || first <= last) return [];
  const message = `${later} ${last} is before ${earlier} ${first}.`;
  return [
    {
      code: "SITE_DATES_REVERSED",
      path: [...entry.path, later],
      part: "value",
      value: last,
      allowed: `${first} or later`,
      message,
    },
  ];
}

function supplyReversed(path: Entry): FieldFault[] {
  const loop = entryOf(path, "loop");
  const { supply, supplyMinimum } = loop?.fields ?? {};
  if (!loop || typeof supply !== "string" || typeof supplyMinimum !== "string") return [];
  const [full, least] = [parseQuantity(supply, "voltage"), parseQuantity(supplyMinimum, "voltage")];
  if (!full.ok || !least.ok || least.value <= full.value) return [];
  return [
    {
      code: "SITE_SUPPLY_MINIMUM_TOO_HIGH",
      path: [...loop.path, "supplyMinimum"],
      part: "value",
      value: supplyMinimum,
      allowed: `at most the supply of ${supply}`,
      message: `supplyMinimum ${supplyMinimum} is above supply ${supply}.`,
    },
  ];
}
