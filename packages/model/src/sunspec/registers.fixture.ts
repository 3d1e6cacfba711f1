import { type Discovery, discover, type RegisterAnswer } from "./chain.ts";
import type { RegisterImage, RegisterRead } from "./point.ts";

/** One model of an invented device: its number, its length, and words at offsets from its ID. */
export interface ModelOfDevice {
  readonly id: number;
  readonly length: number;
  readonly words?: Readonly<Record<number, number>>;
}

/** Registers of an invented device, by address. */
export function registersOfDevice(
  models: readonly ModelOfDevice[],
  base = 40_000,
): ReadonlyMap<number, number> {
  const registers = new Map([
    [base, 0x5375],
    [base + 1, 0x6e53],
  ]);
  let address = base + 2;
  for (const { id, length, words = {} } of models) {
    for (let offset = 0; offset < length + 2; offset++) registers.set(address + offset, 0);
    registers.set(address, id).set(address + 1, length);
    for (const [offset, word] of Object.entries(words)) registers.set(address + Number(offset), word);
    address += length + 2;
  }
  return registers.set(address, 0xffff).set(address + 1, 0);
}

/** The common model with texts as words. */
export function commonModel(serial = "N-0042"): ModelOfDevice {
  return { id: 1, length: 66, words: { ...textWords(2, "Skua"), ...textWords(50, serial) } };
}

function textWords(offset: number, text: string): Record<number, number> {
  const codes = `${text}\0`.split("").map((sign) => sign.charCodeAt(0));
  const words: Record<number, number> = {};
  for (let at = 0; at < text.length; at += 2) words[offset + at / 2] = codes[at]! * 256 + codes[at + 1]!;
  return words;
}

/** Answers as a device does: exception 2 where a register does not exist. */
function answerOf(registers: ReadonlyMap<number, number>, { address, count }: RegisterRead): RegisterAnswer {
  const words = Array.from({ length: count }, (_, at) => registers.get(address + at));
  return words.includes(undefined)
    ? { ok: false, exception: 2 }
    : { ok: true, registers: words as readonly number[] };
}

export function imageOfDevice(registers: ReadonlyMap<number, number>): RegisterImage {
  return { at: (address) => registers.get(address) };
}

/** Walks the chain of an invented device; the reads it took. */
export function discoverIn(
  registers: ReadonlyMap<number, number>,
  chainNeeded = true,
): { readonly found: Discovery; readonly reads: readonly RegisterRead[] } {
  const walk = discover(chainNeeded);
  const reads: RegisterRead[] = [];
  for (let step = walk.next(); ; step = walk.next(answerOf(registers, reads.at(-1)!))) {
    if (step.done === true) return { found: step.value, reads };
    reads.push(step.value);
  }
}
