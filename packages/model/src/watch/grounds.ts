import { formatQuantity, type Ohms } from "@earthbell/engine";
import type { Limit } from "./limit.ts";
import type { LimitName, WatchLimits } from "./limits.ts";
import { DAY, HOUR, MINUTE } from "./time/span.ts";

/** Why a decision was taken: in words, with its figures, and with every limit it went by. */
export interface Grounds {
  readonly text: string;
  readonly figures: Readonly<Record<string, number>>;
  readonly limits: readonly NamedLimit[];
}

export interface NamedLimit extends Limit {
  readonly name: string;
}

export function grounds(
  text: string,
  figures: Readonly<Record<string, number>> = {},
  limits: readonly NamedLimit[] = [],
): Grounds {
  return { text, figures, limits };
}

type Words = () => { readonly text: string; readonly limits?: readonly NamedLimit[] };

/**
 * Grounds that are put into words when somebody asks for them. Most readings change nothing, and nobody asks why. A copy by
 * spreading has no words: `inPlainWords` makes one.
 *
 * @param words  pure
 */
export function groundsInWords(words: Words, figures: Readonly<Record<string, number>> = {}): Grounds {
  return new WordedLater(words, figures);
}

class WordedLater implements Grounds {
  readonly #words: Words;
  readonly figures: Readonly<Record<string, number>>;

  constructor(words: Words, figures: Readonly<Record<string, number>>) {
    this.#words = words;
    this.figures = figures;
  }

  get text(): string {
    return this.#words().text;
  }

  get limits(): readonly NamedLimit[] {
    return this.#words().limits ?? [];
  }
}

/** The same grounds, to be kept and stored. */
export function inPlainWords({ text, figures, limits }: Grounds): Grounds {
  return { text, figures, limits };
}

/** The limits that a decision went by, under their names. */
export function named(limits: WatchLimits, ...names: readonly LimitName[]): readonly NamedLimit[] {
  return names.map((name) => ({ name, ...limits[name] }));
}

/** The latest instant that a date can hold. */
const LATEST = 8.64e15;

export function isInstant(value: unknown): value is number {
  return typeof value === "number" && Number.isInteger(value) && Math.abs(value) <= LATEST;
}

/** `2026-06-01 05:12 UTC`; what is no instant is printed as it is. */
export function instantText(at: number): string {
  if (!isInstant(at)) return String(at);
  return `${new Date(at).toISOString().slice(0, 16).replace("T", " ")} UTC`;
}

/** `90 s`, `60 min`, `26 h`, `8 d`: rounded down to the unit, so that "24 h" is never said of less. */
export function durationText(ms: number): string {
  if (ms < 2 * MINUTE) return `${Math.floor(ms / 1000)} s`;
  if (ms < 2 * HOUR) return `${Math.floor(ms / MINUTE)} min`;
  if (ms < 2 * DAY) return `${Math.floor(ms / HOUR)} h`;
  return `${Math.floor(ms / DAY)} d`;
}

/** `one, two and three`. */
export function listed(words: readonly string[]): string {
  if (words.length < 2) return words.join("");
  return `${words.slice(0, -1).join(", ")} and ${words.at(-1)!}`;
}

/** `10.3 kΩ`, `at least 20 MΩ`: with digits enough to tell a value from the limit that it just misses. */
export function ohmsText({
  ohms,
  atLeast = false,
}: {
  readonly ohms: number;
  readonly atLeast?: boolean;
}): string {
  return `${atLeast ? "at least " : ""}${formatQuantity(ohms as Ohms, "resistance", { significant: 6 })}`;
}
