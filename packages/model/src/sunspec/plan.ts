import { bitfieldOffset, earthFaultBits, instanceOf } from "./bit-place.ts";
import type { Chain } from "./chain.ts";
import { makerBitsOf, makerRegistersOf, type SunspecDevice } from "./device.ts";
import { endOf, type PlacedModel, watchedModel } from "./models.ts";
import { MOST_REGISTERS, type RegisterRead, registersOf } from "./point.ts";

/** One request of a poll. */
export interface PlannedRead extends RegisterRead {
  /** Addresses of the models it touches, none for the maker's own registers. */
  readonly models: readonly number[];
}

/** Registers between two wanted ones that are read along with them: a request costs more than its registers. */
const MOST_UNWANTED = 64;

interface Wanted {
  readonly address: number;
  readonly end: number;
  /** Address of its model; null for a maker's own register. */
  readonly model: number | null;
}

/**
 * The fewest requests that read what is watched of a device: ID and L of each model along with its points, so that every
 * poll sees for itself whether the chain still holds.
 *
 * @param acrossModels  whether one request may touch two models; some devices refuse that
 */
export function planReads(
  chain: Chain,
  device: SunspecDevice,
  acrossModels: boolean,
): readonly PlannedRead[] {
  const wanted = [...chain.models.flatMap((model) => wantedOf(model)), ...wantedByMaker(chain, device)];
  wanted.sort((one, other) => one.address - other.address);
  const reads: PlannedRead[] = [];
  for (const point of wanted) {
    const last = reads.at(-1);
    if (last !== undefined && joins(last, point, acrossModels)) reads[reads.length - 1] = joined(last, point);
    else reads.push({ address: point.address, count: point.end - point.address, models: modelsOf(point) });
  }
  return reads;
}

function wantedOf(model: PlacedModel): readonly Wanted[] {
  const shape = watchedModel(model.id);
  if (shape === undefined) return [];
  const end = endOf(model);
  const point = (address: number, registers: number): Wanted => ({
    address,
    end: address + registers,
    model: model.address,
  });
  const { events, state, insulation, blocks } = shape;
  return [
    point(model.address, 2),
    ...(state === undefined ? [] : [point(model.address + state.offset, 1)]),
    ...(insulation === undefined
      ? []
      : [point(model.address + insulation.offset, 1), point(model.address + insulation.factorOffset, 1)]),
    ...(events === undefined ? [] : [point(model.address + events.offset, 2)]),
    ...(blocks === undefined ? [] : [point(model.address + blocks.countOffset, 1)]),
    ...earthFaultBits([model])
      .filter(({ port }) => port !== null)
      .map(({ address }) => point(address, 2)),
    // What a short model has no room for belongs to its neighbour.
  ].filter((one) => one.end <= end);
}

function wantedByMaker({ models }: Chain, device: SunspecDevice): readonly Wanted[] {
  const fields = makerBitsOf(device).flatMap((bit): Wanted[] => {
    const model = instanceOf(models, bit);
    const offset = bitfieldOffset(bit.model, bit.point);
    if (model === undefined || offset === undefined) return [];
    const address = model.address + offset;
    return address + 2 > endOf(model) ? [] : [{ address, end: address + 2, model: model.address }];
  });
  return [
    ...fields,
    ...makerRegistersOf(device).map(({ address, type }) => ({
      address,
      end: address + registersOf(type),
      model: null,
    })),
  ];
}

function joins(read: PlannedRead, point: Wanted, acrossModels: boolean): boolean {
  const end = read.address + read.count;
  if (Math.max(end, point.end) - read.address > MOST_REGISTERS || point.address - end > MOST_UNWANTED)
    return false;
  // A maker's own register is read apart: where it does not exist it must not take the standard's ones with it.
  if (point.model === null) return read.models.length === 0 && point.address <= end;
  return read.models.includes(point.model) || (acrossModels && read.models.length > 0);
}

function joined(read: PlannedRead, point: Wanted): PlannedRead {
  const end = Math.max(read.address + read.count, point.end);
  return {
    address: read.address,
    count: end - read.address,
    models: [...new Set([...read.models, ...modelsOf(point)])],
  };
}

function modelsOf({ model }: Wanted): readonly number[] {
  return model === null ? [] : [model];
}
