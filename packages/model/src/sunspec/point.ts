/** Where a register is, as it is asked for on the wire: counted from 0. */
export interface RegisterRead {
  readonly address: number;
  readonly count: number;
}

/** Registers that were read, found by their address. */
export interface RegisterImage {
  /** One register, 0 to 65535; undefined where it was not read. */
  at(address: number): number | undefined;
}

/** Most registers that one request may ask for (Modbus application protocol V1.1b3, function 03) [published]. */
export const MOST_REGISTERS = 125;
/** Addresses are 16 bits wide. */
export const ADDRESS_SPACE = 65_536;

/** Numbers a device can hold; big-endian, the high word first. */
export type PointType =
  | "int16"
  | "uint16"
  | "acc16"
  | "bitfield16"
  | "int32"
  | "uint32"
  | "acc32"
  | "bitfield32"
  | "float32";

/** Width of a type, and the raw value that says "the device does not offer this" (SunSpec information model) [published]. */
const TRAITS: Readonly<Record<PointType, { readonly registers: 1 | 2; readonly absent: number | null }>> = {
  int16: { registers: 1, absent: 0x8000 },
  uint16: { registers: 1, absent: 0xffff },
  acc16: { registers: 1, absent: 0 },
  bitfield16: { registers: 1, absent: null },
  int32: { registers: 2, absent: 0x8000_0000 },
  uint32: { registers: 2, absent: 0xffff_ffff },
  acc32: { registers: 2, absent: 0 },
  bitfield32: { registers: 2, absent: null },
  float32: { registers: 2, absent: null },
};

export const POINT_TYPES = Object.keys(TRAITS) as [PointType, ...PointType[]];

export function registersOf(type: PointType): 1 | 2 {
  return TRAITS[type].registers;
}

/** What a point says: a number, that the device does not offer it, or that it was not read. */
export type PointValue = number | "not-implemented" | "not-read";

export function isNumber(value: PointValue): value is number {
  return typeof value === "number";
}

/**
 * Reads one number.
 *
 * A bitfield whose highest bit is set says nothing at all: 0xFFFFFFFF says that it is absent and is never a fault.
 *
 * @param lowFirst  for makers who send the low word first; the standard does not
 */
export function readPoint(
  image: RegisterImage,
  address: number,
  type: PointType,
  lowFirst = false,
): PointValue {
  const { registers, absent } = TRAITS[type];
  const words = [image.at(address), registers === 2 ? image.at(address + 1) : 0];
  const [first, second] = lowFirst && registers === 2 ? words.toReversed() : words;
  if (first === undefined || second === undefined) return "not-read";
  const raw = registers === 2 ? first * 0x1_0000 + second : first;
  if (raw === absent) return "not-implemented";
  switch (type) {
    case "int16":
      return raw >= 0x8000 ? raw - 0x1_0000 : raw;
    case "int32":
      return raw >= 0x8000_0000 ? raw - 0x1_0000_0000 : raw;
    case "bitfield16":
      return raw >= 0x8000 ? "not-implemented" : raw;
    case "bitfield32":
      return raw >= 0x8000_0000 ? "not-implemented" : raw;
    case "float32":
      return float32(raw);
    default:
      return raw;
  }
}

function float32(raw: number): PointValue {
  const view = new DataView(new ArrayBuffer(4));
  view.setUint32(0, raw);
  const value = view.getFloat32(0);
  return Number.isNaN(value) ? "not-implemented" : value;
}

/** Whether a bit of a bitfield is set; null where the bitfield says nothing. */
export function bitSet(value: PointValue, bit: number): boolean | null {
  return isNumber(value) ? Math.floor(value / 2 ** bit) % 2 === 1 : null;
}

/** Text of a run of registers: two characters each, filled up with zeros. Empty where the device gives none. */
export function readText(image: RegisterImage, address: number, registers: number): string {
  let text = "";
  for (let at = address; at < address + registers; at++) {
    const word = image.at(at);
    if (word === undefined) return "";
    text += String.fromCharCode(word >> 8, word & 0xff);
  }
  const end = text.indexOf("\0");
  // A device may hold anything here, and the text ends up in messages: printable ASCII only.
  return (end < 0 ? text : text.slice(0, end)).replaceAll(/[^\u0020-\u007e]/gu, "").trim();
}

/** A number with its scale factor: value × 10^factor. */
export type Scaled =
  | { readonly quality: "good"; readonly value: number }
  | { readonly quality: "implausible" | "not-implemented" | "not-read" };

/** Scale factors lie between −10 and 10 (SunSpec schema) [published]; a missing one makes its point say nothing, not "times one". */
export function scale(value: PointValue, factor: PointValue): Scaled {
  if (!isNumber(value)) return { quality: value };
  if (!isNumber(factor)) return { quality: factor };
  if (factor < -10 || factor > 10) return { quality: "implausible" };
  // Dividing keeps decimals exact that multiplying by 0.001 would not.
  return { quality: "good", value: factor < 0 ? value / 10 ** -factor : value * 10 ** factor };
}
