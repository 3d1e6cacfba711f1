/** A model as far as an earth fault, insulation or the state of the device shows in it. Offsets count registers from the model's ID. */
export interface WatchedModel {
  readonly id: number;
  readonly title: string;
  /** Length L that the standard gives, without ID and L; with blocks, the part before them. */
  readonly length: number;
  readonly events?: EventPoint;
  readonly state?: { readonly offset: number; readonly words: readonly (readonly [number, string])[] };
  /** Bitfields that the standard leaves to the maker, by name. */
  readonly makerEvents?: Readonly<Record<string, number>>;
  readonly insulation?: { readonly offset: number; readonly factorOffset: number };
  readonly blocks?: Blocks;
}

export interface EventPoint {
  readonly name: string;
  readonly offset: number;
  /** Bit that says earth fault. */
  readonly bit: number;
}

/** A run of equal blocks, one a port, a string or a tracker; they follow the fixed part. */
export interface Blocks {
  readonly size: number;
  /** Bitfield inside a block. */
  readonly events: EventPoint;
  /** Where the device says how many there are; the length of the model decides. */
  readonly countOffset: number;
}

/** Models that name the device: maker 16 registers, type 16, options 8, version 8, serial number 16. */
export const COMMON_MODEL = 1;
/** ID of the model that ends a chain. */
export const END_MODEL = 0xffff;

const INVERTER_WORDS = [
  [1, "off"],
  [2, "sleeping"],
  [3, "starting"],
  [4, "running"],
  [5, "throttled"],
  [6, "shutting-down"],
  [7, "fault"],
  [8, "standby"],
] as const;

// Model 701 counts the same states from 0 and leaves one out, so that its numbers are the others' less one.
const DER_WORDS = INVERTER_WORDS.map(([code, word]) => [code - 1, word] as const);

/** Words of a device at rest: it measures nothing, and an insulation of zero is then no measurement. */
export const AT_REST: readonly string[] = ["off", "sleeping", "standby"];

function inverter(id: number, title: string, start: number): WatchedModel {
  return {
    id,
    title,
    length: start + 12,
    state: { offset: start, words: INVERTER_WORDS },
    events: { name: "Evt1", offset: start + 2, bit: 0 },
    makerEvents: {
      Evt2: start + 4,
      EvtVnd1: start + 6,
      EvtVnd2: start + 8,
      EvtVnd3: start + 10,
      EvtVnd4: start + 12,
    },
  };
}

/** Combiners keep the earth fault in bit 12, not in bit 0. */
function combiner(id: number, length: number, size: number, eventsOffset: number): WatchedModel {
  return {
    id,
    title: "string combiner",
    length,
    events: { name: "Evt", offset: eventsOffset, bit: 12 },
    blocks: {
      size,
      events: { name: "InEvt", offset: 1, bit: 12 },
      countOffset: eventsOffset - 1,
    },
  };
}

/**
 * The models of the open standard that are watched.
 *
 * Batteries (802 and others) have their ground fault in bit 22 and are left out: theirs is not the array's.
 *
 * Source: SunSpec model definitions, github sunspec/models, April 2026 [published]; the place of the count in models 401 to
 * 404 and 714 [memory], and it decides nothing.
 */
const MODELS: readonly WatchedModel[] = [
  { id: 2, title: "aggregator", length: 14, events: { name: "Evt", offset: 7, bit: 0 } },
  inverter(101, "single-phase inverter", 38),
  inverter(102, "split-phase inverter", 38),
  inverter(103, "three-phase inverter", 38),
  inverter(111, "single-phase inverter", 48),
  inverter(112, "split-phase inverter", 48),
  inverter(113, "three-phase inverter", 48),
  { id: 122, title: "status", length: 44, insulation: { offset: 44, factorOffset: 45 } },
  {
    id: 160,
    title: "trackers",
    length: 8,
    events: { name: "Evt", offset: 6, bit: 0 },
    blocks: { size: 20, events: { name: "DCEvt", offset: 18, bit: 0 }, countOffset: 8 },
  },
  combiner(401, 14, 8, 7),
  combiner(402, 20, 14, 9),
  combiner(403, 16, 8, 7),
  combiner(404, 25, 14, 9),
  { id: 501, title: "module", length: 31, events: { name: "Evt", offset: 4, bit: 0 } },
  { id: 502, title: "module", length: 28, events: { name: "Evt", offset: 8, bit: 0 } },
  {
    id: 701,
    title: "AC measurement",
    length: 153,
    state: { offset: 4, words: DER_WORDS },
    events: { name: "Alrm", offset: 6, bit: 0 },
  },
  {
    id: 714,
    title: "DC measurement",
    length: 18,
    // PrtAlrms says of each port only that it has some alarm; the ports' own DCAlrm says which.
    blocks: { size: 25, events: { name: "DCAlrm", offset: 23, bit: 0 }, countOffset: 4 },
  },
];

const BY_ID = new Map(MODELS.map((model) => [model.id, model]));

/** The watched part of a model; undefined for a model in which nothing is watched. */
export function watchedModel(id: number): WatchedModel | undefined {
  return BY_ID.get(id);
}

/** A model as one device has it. */
export interface PlacedModel {
  readonly id: number;
  /** Address of its ID. */
  readonly address: number;
  /** L, as the device gives it. */
  readonly length: number;
}

/** First register behind a model. */
export function endOf(model: PlacedModel): number {
  return model.address + 2 + model.length;
}

/** How many whole blocks a model's length has room for. */
export function blockCount(model: PlacedModel): number {
  const shape = watchedModel(model.id);
  if (shape?.blocks === undefined) return 0;
  return Math.max(0, Math.floor((model.length - shape.length) / shape.blocks.size));
}

/** Address of a block; the first has the number 1. */
export function blockAddress(model: PlacedModel, shape: WatchedModel, port: number): number {
  return model.address + 2 + shape.length + (port - 1) * (shape.blocks?.size ?? 0);
}
