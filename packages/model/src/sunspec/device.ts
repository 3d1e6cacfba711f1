import type { PointType } from "./point.ts";

/** What the user states about one device: whose it is, which port is which array, and what its maker added to the standard. */
export interface SunspecDevice {
  /** Id of the inverter in the site file. */
  readonly id: string;
  /** Modbus unit, 1 to 247. */
  readonly unit: number;
  readonly site: string;
  /**
   * All arrays of the device, also those that no port leads to: an earth fault that the device cannot place is told of each
   * of them. Without this list the arrays that ports and extras name count as all.
   */
  readonly arrays?: readonly string[];
  /**
   * Array to which each port leads. A port is counted from 1 in the order of the device's blocks: `3` is port 3 of whatever model
   * has ports, `401/3` port 3 of model 401, `401.2/3` port 3 of the second model 401.
   */
  readonly ports?: Readonly<Record<string, string>>;
  /** String to which a port leads, by the name of the port. */
  readonly strings?: Readonly<Record<string, string>>;
  readonly extras?: readonly Extra[];
}

/** A point that the device's maker defines. */
export type Extra = MakerBit | MakerRegister;

/** What a point of the maker's own is taken for. */
export type ExtraKind = "earth-fault-bit" | "residual-trip" | "insulation" | "residual-current";

/** A bit in an event bitfield of the standard. */
export interface MakerBit {
  readonly is: "event-bit";
  readonly model: number;
  /** Which of several models of this number; the first is 1. */
  readonly instance?: number;
  /** Name of the bitfield: EvtVnd1 to EvtVnd4, Evt1, Evt2, Evt or Alrm. */
  readonly point: string;
  readonly bit: number;
  readonly kind: "earth-fault-bit" | "residual-trip";
  readonly array?: string;
}

export type ExtraUnit = "ohm" | "kiloohm" | "megaohm" | "ampere" | "milliampere";

/** A register outside the standard, at its address on the wire (counted from 0). */
export interface MakerRegister {
  readonly is: "register";
  readonly address: number;
  readonly type: PointType;
  /** The maker sends the low word first. */
  readonly lowFirst?: boolean;
  readonly kind: ExtraKind;
  /** Ohm or ampere when left out. */
  readonly unit?: ExtraUnit;
  /** The number times this is in the unit. */
  readonly multiplier?: number;
  /** Bit to look at; without it a number other than 0 is a set bit. */
  readonly bit?: number;
  /** Numbers, before multiplying, by which the device says that it has no value. */
  readonly absent?: readonly number[];
  readonly array?: string;
}

/** Ohms or amperes in one of the unit. */
export const IN_BASE_UNIT: Readonly<Record<ExtraUnit, number>> = {
  ohm: 1,
  kiloohm: 1e3,
  megaohm: 1e6,
  ampere: 1,
  milliampere: 1e-3,
};

/** Units that each kind can be in; none for bits. */
export const UNITS_OF: Readonly<Record<ExtraKind, readonly ExtraUnit[]>> = {
  "earth-fault-bit": [],
  "residual-trip": [],
  insulation: ["ohm", "kiloohm", "megaohm"],
  "residual-current": ["ampere", "milliampere"],
};

/**
 * The arrays that a device's word about itself as a whole is told of; undefined where it is told of no array by name. An
 * array that is mapped and not in the list belongs to it all the same: its fault must not be lost.
 */
export function arraysOf({
  arrays = [],
  ports = {},
  extras = [],
}: SunspecDevice): readonly string[] | undefined {
  const named = [...arrays, ...Object.values(ports), ...extras.flatMap(({ array }) => array ?? [])];
  return named.length === 0 ? undefined : [...new Set(named)];
}

export function makerBitsOf({ extras = [] }: SunspecDevice): readonly MakerBit[] {
  return extras.filter((extra) => extra.is === "event-bit");
}

export function makerRegistersOf({ extras = [] }: SunspecDevice): readonly MakerRegister[] {
  return extras.filter((extra) => extra.is === "register");
}

/** A port as the user names it: which model and instance, null for any. */
export interface PortName {
  readonly model: number | null;
  readonly instance: number;
  readonly port: number;
}

/** Reads `3`, `401/3` or `401.2/3`; null for anything else. */
export function parsePortName(written: string): PortName | null {
  const parts = /^(?:(\d{1,5})(?:\.(\d{1,3}))?\/)?(\d{1,4})$/u.exec(written);
  if (parts === null) return null;
  const [, model, instance = "1", port] = parts;
  const name = {
    model: model === undefined ? null : Number(model),
    instance: Number(instance),
    port: Number(port),
  };
  return name.port >= 1 && name.instance >= 1 ? name : null;
}
