import { bitfieldOffset, earthFaultBits, type EarthFaultBit, instanceOf, placeOfPort } from "./bit-place.ts";
import type { Chain, SunspecProblem } from "./chain.ts";
import {
  arraysOf,
  IN_BASE_UNIT,
  type MakerRegister,
  makerBitsOf,
  makerRegistersOf,
  type SunspecDevice,
  UNITS_OF,
} from "./device.ts";
import { AT_REST, blockCount, endOf, type PlacedModel, watchedModel } from "./models.ts";
import { combine, type Observation } from "./observation.ts";
import { bitSet, isNumber, type PointValue, readPoint, type RegisterImage, scale } from "./point.ts";

/** What one poll of a device says. */
export interface DeviceReport {
  /** One of each kind and array. */
  readonly observations: readonly Observation[];
  /** State of the device; null where it does not tell one. */
  readonly state: string | null;
  /** Ports whose own bit says earth fault, with the string where the user named it. */
  readonly faultyPorts: readonly string[];
  readonly problems: readonly SunspecProblem[];
}

/** Whether ID and L of every watched model are still what they were when the chain was walked. */
export function chainHolds(chain: Chain, image: RegisterImage): boolean {
  return chain.models
    .filter(({ id }) => watchedModel(id) !== undefined)
    .every(({ address, id, length }) => image.at(address) === id && image.at(address + 1) === length);
}

/** Turns the registers of one poll into what the device says. A point that a model has no room for is not offered. */
export function decode(chain: Chain, device: SunspecDevice, image: RegisterImage): DeviceReport {
  const { models } = chain;
  const state = deviceState(models, image);
  const bits = earthFaultBits(models).map(
    (bit): ReadBit => ({ ...bit, set: readBit(bit.model, bit, image) }),
  );
  const observations = [
    ...earthFaults(bits, device, models),
    ...makerBits(device, models, image),
    ...insulation(models, image, state),
    ...makerRegistersOf(device).map((register) => makerRegister(register, image)),
  ];
  const faulty = bits.filter(({ port, set }) => port !== null && set === true);
  return {
    observations: combine(observations, arraysOf(device)),
    state,
    faultyPorts: faulty.map((bit) => portText(bit, device, models)),
    problems: models.flatMap((model) => countProblems(model, image)),
  };
}

interface ReadBit extends EarthFaultBit {
  readonly set: boolean | null;
}

function readBit(
  model: PlacedModel,
  at: { readonly address: number; readonly bit: number },
  image: RegisterImage,
) {
  // A model that is too short for the point lends it no register of its neighbour.
  if (at.address + 2 > endOf(model)) return null;
  return bitSet(readPoint(image, at.address, "bitfield32"), at.bit);
}

function bitObservation(
  kind: "earth-fault-bit" | "residual-trip",
  array: string | null,
  set: boolean | null,
): Observation {
  return { kind, array, value: set, quality: set === null ? "not-implemented" : "good" };
}

/**
 * The device's own bit repeats what a port's bit says. Where every port tells, and the user has placed every one of them, the
 * fault is told of the ports' arrays only; in any other case of all arrays of the device.
 */
function earthFaults(
  bits: readonly ReadBit[],
  device: SunspecDevice,
  models: readonly PlacedModel[],
): readonly Observation[] {
  const placed = bits.map((bit) => ({ bit, place: placeOfPort(device, models, bit) }));
  const ports = placed.filter(({ bit }) => bit.port !== null);
  const allTell = ports.every(({ bit, place }) => bit.set !== null && place.array !== null);
  const explained = allTell && ports.some(({ bit }) => bit.set === true);
  const observed = placed
    .filter(({ bit }) => !(explained && bit.port === null && bit.set === true))
    .map(({ bit, place }) => bitObservation("earth-fault-bit", place.array, bit.set));
  return observed.length > 0 ? observed : [bitObservation("earth-fault-bit", null, null)];
}

function makerBits(
  device: SunspecDevice,
  models: readonly PlacedModel[],
  image: RegisterImage,
): readonly Observation[] {
  return makerBitsOf(device).map((bit) => {
    const model = instanceOf(models, bit);
    const offset = bitfieldOffset(bit.model, bit.point);
    const set =
      model === undefined || offset === undefined
        ? null
        : readBit(model, { address: model.address + offset, bit: bit.bit }, image);
    return bitObservation(bit.kind, bit.array ?? null, set);
  });
}

function insulation(
  models: readonly PlacedModel[],
  image: RegisterImage,
  state: string | null,
): readonly Observation[] {
  const found = models.flatMap((model): Observation[] => {
    const point = watchedModel(model.id)?.insulation;
    if (point === undefined || model.address + point.factorOffset + 1 > endOf(model)) return [];
    const ohms = readPoint(image, model.address + point.offset, "uint16");
    const scaled = scale(ohms, readPoint(image, model.address + point.factorOffset, "int16"));
    if (scaled.quality !== "good") return [silent("insulation", scaled.quality)];
    // At night a device shows zero because it measures nothing; by day zero is a dead short.
    if (scaled.value === 0 && state !== null && AT_REST.includes(state))
      return [silent("insulation", "stale")];
    return [{ kind: "insulation", array: null, value: scaled.value, quality: "good" }];
  });
  return found.length > 0 ? found : [silent("insulation", "not-implemented")];
}

function silent(
  kind: Observation["kind"],
  quality: "implausible" | "stale" | "not-implemented" | "not-read",
  array: string | null = null,
): Observation {
  return { kind, array, value: null, quality: quality === "not-read" ? "stale" : quality };
}

function makerRegister(register: MakerRegister, image: RegisterImage): Observation {
  const { address, type, kind, lowFirst = false, multiplier = 1, absent = [], array = null } = register;
  const value = readPoint(image, address, type, lowFirst);
  if (!isNumber(value)) return silent(kind, value, array);
  if (absent.includes(value)) return silent(kind, "not-implemented", array);
  if (kind === "earth-fault-bit" || kind === "residual-trip") {
    const set = register.bit === undefined ? value !== 0 : bitSet(value, register.bit) === true;
    return { kind, array, value: set, quality: "good" };
  }
  const size = value * multiplier * IN_BASE_UNIT[register.unit ?? UNITS_OF[kind][0]!];
  if (!Number.isFinite(size) || size < 0) return silent(kind, "implausible", array);
  return { kind, array, value: size, quality: "good" };
}

/** The word of the first model that has one; a fault of any of them wins. */
function deviceState(models: readonly PlacedModel[], image: RegisterImage): string | null {
  const words = models.flatMap((model) => {
    const state = watchedModel(model.id)?.state;
    if (state === undefined || model.address + state.offset >= endOf(model)) return [];
    return stateWord(readPoint(image, model.address + state.offset, "uint16"), state.words);
  });
  return words.find((word) => word === "fault") ?? words[0] ?? null;
}

function stateWord(code: PointValue, words: readonly (readonly [number, string])[]): readonly string[] {
  if (!isNumber(code)) return [];
  return [words.find(([number]) => number === code)?.[1] ?? `unknown state ${String(code)}`];
}

function portText(bit: ReadBit, device: SunspecDevice, models: readonly PlacedModel[]): string {
  const { array, string } = placeOfPort(device, models, bit);
  return [
    `port ${String(bit.port)} of model ${String(bit.model.id)}`,
    ...(array === null ? [] : [`array ${array}`]),
    ...(string === null ? [] : [`string ${string}`]),
  ].join(", ");
}

function countProblems(model: PlacedModel, image: RegisterImage): readonly SunspecProblem[] {
  const blocks = watchedModel(model.id)?.blocks;
  if (blocks === undefined) return [];
  const told = readPoint(image, model.address + blocks.countOffset, "uint16");
  const count = blockCount(model);
  if (!isNumber(told) || told === count) return [];
  const text = `Model ${String(model.id)} gives ${String(told)} ports and has registers for ${String(count)}.`;
  return [{ code: "SUNSPEC_COUNT_MISMATCH", text }];
}
