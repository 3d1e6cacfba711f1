import { type MakerBit, parsePortName, type SunspecDevice } from "./device.ts";
import { blockAddress, blockCount, type PlacedModel, watchedModel } from "./models.ts";

/** The models of one number in a chain, in order; `instance` counts them from 1. */
export function instanceOf(
  models: readonly PlacedModel[],
  { model, instance = 1 }: Pick<MakerBit, "model" | "instance">,
): PlacedModel | undefined {
  return models.filter(({ id }) => id === model)[instance - 1];
}

/** Offset of a named bitfield of a model; undefined where the standard has none of this name. */
export function bitfieldOffset(model: number, point: string): number | undefined {
  const shape = watchedModel(model);
  if (shape?.events?.name === point) return shape.events.offset;
  return shape?.makerEvents?.[point];
}

/** Names of the bitfields of a model, for messages. */
export function bitfieldNames(model: number): readonly string[] {
  const shape = watchedModel(model);
  const own = shape?.events === undefined ? [] : [shape.events.name];
  return [...own, ...Object.keys(shape?.makerEvents ?? {})];
}

/** A bitfield of a device, and the bit in it that says earth fault. */
export interface EarthFaultBit {
  readonly model: PlacedModel;
  readonly address: number;
  readonly bit: number;
  /** null for the device as a whole. */
  readonly port: number | null;
}

/** Every bit of the standard by which this device can tell an earth fault. */
export function earthFaultBits(models: readonly PlacedModel[]): readonly EarthFaultBit[] {
  return models.flatMap((model): EarthFaultBit[] => {
    const shape = watchedModel(model.id);
    if (shape === undefined) return [];
    const { events, blocks } = shape;
    const own: EarthFaultBit[] =
      events === undefined
        ? []
        : [{ model, address: model.address + events.offset, bit: events.bit, port: null }];
    if (blocks === undefined) return own;
    const ports = Array.from({ length: blockCount(model) }, (_, at): EarthFaultBit => {
      const address = blockAddress(model, shape, at + 1) + blocks.events.offset;
      return { model, address, bit: blocks.events.bit, port: at + 1 };
    });
    return [...own, ...ports];
  });
}

/** Where a port leads to, as far as the user says. */
export interface PortPlace {
  readonly array: string | null;
  readonly string: string | null;
}

/** Array and string of a port; a name that says the model goes before one that does not. */
export function placeOfPort(
  { ports = {}, strings = {} }: SunspecDevice,
  models: readonly PlacedModel[],
  bit: EarthFaultBit,
): PortPlace {
  return { array: byPort(ports, models, bit), string: byPort(strings, models, bit) };
}

function byPort(
  names: Readonly<Record<string, string>>,
  models: readonly PlacedModel[],
  { model, port }: EarthFaultBit,
): string | null {
  const fitting = Object.entries(names).flatMap(([written, place]) => {
    const name = parsePortName(written);
    if (name === null || name.port !== port) return [];
    if (name.model === null) return [{ place, exact: false }];
    const meant = instanceOf(models, { model: name.model, instance: name.instance });
    return meant === model ? [{ place, exact: true }] : [];
  });
  return (fitting.find(({ exact }) => exact) ?? fitting[0])?.place ?? null;
}
