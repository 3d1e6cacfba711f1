import { type Entry, entriesOf, entryOf, textsOf } from "../fields/entries.ts";
import type { FieldFault } from "../fields/field-fault.ts";
import { bitfieldNames, bitfieldOffset } from "./bit-place.ts";
import { type ExtraKind, parsePortName, UNITS_OF } from "./device.ts";
import { watchedModel } from "./models.ts";
import { ADDRESS_SPACE, POINT_TYPES, type PointType, registersOf } from "./point.ts";

/** What is wrong with a device of the settings beyond its single fields: ports, arrays, points, units and bits that do not fit. */
export function* deviceFaults(device: Entry): Generator<FieldFault> {
  const arrays = Array.isArray(device.fields["arrays"])
    ? new Set(textsOf(device, "arrays").map(({ text }) => text))
    : null;
  for (const field of ["ports", "strings"]) {
    const names = entryOf(device, field);
    if (names === undefined) continue;
    for (const name of Object.keys(names.fields)) {
      yield* portName(names, name);
      if (field === "ports") yield* arrayUnlisted(names, name, arrays);
    }
  }
  for (const extra of entriesOf(device, "extras")) {
    yield* arrayUnlisted(extra, "array", arrays);
    if (extra.fields["is"] === "event-bit") yield* pointUnknown(extra);
    if (extra.fields["is"] === "register") yield* registerFaults(extra);
  }
}

function fault(
  entry: Entry,
  field: string,
  code: FieldFault["code"],
  allowed: string,
  message: string,
): FieldFault {
  return { code, path: [...entry.path, field], part: "value", value: entry.fields[field], allowed, message };
}

function* portName(names: Entry, written: string): Generator<FieldFault> {
  const name = parsePortName(written);
  const hasPorts = name !== null && (name.model === null || watchedModel(name.model)?.blocks !== undefined);
  if (hasPorts) return;
  const allowed = "a number such as 3, or 401/3 for a port of one model, of models 160, 401 to 404 and 714";
  yield {
    ...fault(names, written, "DESK_PORT_NAME_INVALID", allowed, `${written} names no port.`),
    part: "key",
  };
}

function* arrayUnlisted(
  entry: Entry,
  field: string,
  arrays: ReadonlySet<string> | null,
): Generator<FieldFault> {
  const array = entry.fields[field];
  if (typeof array !== "string" || arrays === null || arrays.has(array)) return;
  const allowed = `one of ${[...arrays].join(", ")}, or the array added to arrays`;
  yield fault(
    entry,
    field,
    "DESK_ARRAY_UNLISTED",
    allowed,
    `Array ${array} is not in the list of the device's arrays.`,
  );
}

function* pointUnknown(extra: Entry): Generator<FieldFault> {
  const { model, point } = extra.fields;
  if (typeof model !== "number" || typeof point !== "string" || bitfieldOffset(model, point) !== undefined)
    return;
  const names = bitfieldNames(model);
  yield names.length === 0
    ? fault(
        extra,
        "model",
        "DESK_POINT_UNKNOWN",
        "a model that has an event bitfield, such as 103",
        `Model ${String(model)} has no event bitfield.`,
      )
    : fault(
        extra,
        "point",
        "DESK_POINT_UNKNOWN",
        names.join(", "),
        `Model ${String(model)} has no event bitfield ${point}.`,
      );
}

function* registerFaults(extra: Entry): Generator<FieldFault> {
  const { address, type, kind, unit, bit } = extra.fields;
  const units =
    typeof kind === "string" && Object.hasOwn(UNITS_OF, kind) ? UNITS_OF[kind as ExtraKind] : null;
  if (units !== null && typeof unit === "string" && !units.some((one) => one === unit))
    yield fault(
      extra,
      "unit",
      "DESK_UNIT_UNFIT",
      units.length === 0 ? "no unit for a bit" : units.join(", "),
      `A reading of kind ${String(kind)} is not in ${unit}.`,
    );
  if (typeof type !== "string" || !POINT_TYPES.includes(type as PointType)) return;
  const registers = registersOf(type as PointType);
  if (typeof bit === "number") yield* bitFaults(extra, bit, 16 * registers, type, units);
  if (typeof address === "number" && address + registers > ADDRESS_SPACE)
    yield fault(
      extra,
      "address",
      "DESK_REGISTER_PAST_END",
      `at most ${String(ADDRESS_SPACE - registers)} for ${type}`,
      `${type} at ${String(address)} reaches past the last register.`,
    );
}

function* bitFaults(
  extra: Entry,
  bit: number,
  bits: number,
  type: string,
  units: readonly string[] | null,
): Generator<FieldFault> {
  const code = "DESK_BIT_UNFIT";
  if (units !== null && units.length > 0)
    yield fault(extra, "bit", code, "no bit beside a measured value", "A measured value is no bit.");
  else if (type === "float32" || type.startsWith("int"))
    yield fault(
      extra,
      "bit",
      code,
      "a bit of a type without a sign, such as uint16",
      `${type} has no bits to look at.`,
    );
  else if (bit >= bits)
    yield fault(
      extra,
      "bit",
      code,
      `0 to ${String(bits - 1)}`,
      `${type} has ${String(bits)} bits, counted from 0.`,
    );
}
