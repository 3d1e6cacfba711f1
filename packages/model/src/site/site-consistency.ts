import { parseQuantity } from "@earthbell/engine";
import { datesReversed } from "../fields/dates-reversed.ts";
import {
  duplicateIds,
  entriesOf,
  entryOf,
  idsOf,
  idsOfRequired,
  repeatedReferences,
  textsOf,
  unknownReferences,
  type Entry,
} from "../fields/entries.ts";
import type { FieldFault } from "../fields/field-fault.ts";

/** What the schema cannot see: ids, references, and fields that contradict one another. */
export function* siteConsistency(data: Readonly<Record<string, unknown>>): Generator<FieldFault> {
  const root: Entry = { path: [], fields: data };
  const [modules, inverters, arrays] = [
    entriesOf(root, "modules"),
    entriesOf(root, "inverters"),
    entriesOf(root, "arrays"),
  ];
  const [people, paths] = [entriesOf(root, "people"), entriesOf(root, "paths")];
  yield* duplicateIds(modules, "Module");
  yield* duplicateIds(inverters, "Inverter");
  yield* duplicateIds(arrays, "Array");
  yield* duplicateIds(people, "Person");
  yield* duplicateIds(paths, "Path");
  yield* arrayFaults(arrays, idsOfRequired(modules), idsOfRequired(inverters));
  for (const person of people)
    for (const absence of entriesOf(person, "away")) yield* datesReversed(absence, "from", "to");
  yield* pathFaults(paths, idsOfRequired(arrays), idsOf(people));
  const pathIds = idsOf(paths);
  for (const proof of entriesOf(root, "proofs"))
    yield* unknownReferences(textsOf(proof, "path"), pathIds, "path");
}

type Ids = ReadonlySet<string> | undefined;

function* arrayFaults(arrays: readonly Entry[], modules: Ids, inverters: Ids): Generator<FieldFault> {
  for (const array of arrays) {
    yield* duplicateIds(entriesOf(array, "strings"), "String");
    yield* unknownReferences(textsOf(array, "module"), modules, "module");
    yield* unknownReferences(textsOf(array, "inverter"), inverters, "inverter");
    yield* datesReversed(array, "installed", "altered");
  }
}

function* pathFaults(paths: readonly Entry[], arrays: Ids, people: Ids): Generator<FieldFault> {
  for (const path of paths) {
    const [watched, told] = [textsOf(path, "arrays"), textsOf(path, "to")];
    yield* unknownReferences(watched, arrays, "array");
    yield* repeatedReferences(watched);
    yield* unknownReferences(told, people, "person");
    yield* repeatedReferences(told);
    yield* supplyReversed(path);
  }
}

function* supplyReversed(path: Entry): Generator<FieldFault> {
  const loop = entryOf(path, "loop");
  const { supply, supplyMinimum } = loop?.fields ?? {};
  if (!loop || typeof supply !== "string" || typeof supplyMinimum !== "string") return;
  const [full, least] = [parseQuantity(supply, "voltage"), parseQuantity(supplyMinimum, "voltage")];
  if (!full.ok || !least.ok || least.value <= full.value) return;
  yield {
    code: "SITE_SUPPLY_MINIMUM_TOO_HIGH",
    path: [...loop.path, "supplyMinimum"],
    part: "value",
    value: supplyMinimum,
    allowed: `at most the supply of ${supply}`,
    message: `supplyMinimum ${supplyMinimum} is above supply ${supply}.`,
  };
}
