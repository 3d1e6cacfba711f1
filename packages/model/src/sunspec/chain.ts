import type { SunspecCode } from "../desk-codes/sunspec-codes.ts";
import { imageOf } from "./image.ts";
import { blockCount, COMMON_MODEL, END_MODEL, endOf, type PlacedModel, watchedModel } from "./models.ts";
import { ADDRESS_SPACE, type RegisterRead, readText } from "./point.ts";

/** What came of a read: the registers, or the number of the device's own refusal. */
export type RegisterAnswer =
  | { readonly ok: true; readonly registers: readonly number[] }
  | { readonly ok: false; readonly exception: number };

/** Something about a device that a person should know. */
export interface SunspecProblem {
  readonly code: SunspecCode;
  readonly text: string;
}

/** How the device names itself; empty texts where it does not. */
export interface Identity {
  readonly maker: string;
  readonly model: string;
  readonly version: string;
  readonly serial: string;
}

/** What one unit offers. */
export interface Chain {
  readonly base: number;
  readonly models: readonly PlacedModel[];
  readonly identity: Identity | null;
}

export type Discovery =
  | { readonly ok: true; readonly chain: Chain; readonly problems: readonly SunspecProblem[] }
  | { readonly ok: false; readonly problems: readonly SunspecProblem[] };

/** Where a chain can begin (SunSpec) [published]. */
const CHAIN_BASES: readonly number[] = [40_000, 0, 50_000];
/** "SunS". */
const MARKER = [0x5375, 0x6e53] as const;
/** More models than any device has; a chain that goes on has no end. */
const MOST_MODELS = 128;

export type Reader<Result> = Generator<RegisterRead, Result, RegisterAnswer>;

/**
 * Finds the models of one unit: yields what to read next, takes the answer, returns what it found.
 *
 * Every model moves on by the length that the device gives. The walk ends with the end model, or with the first thing that
 * cannot be true: what was found before it is kept when there is something to watch in it, since a device with an untidy end
 * still reports its earth fault.
 *
 * @param chainNeeded  false for a device whose own registers are mapped: it may do without the standard's
 */
export function* discover(chainNeeded = true): Reader<Discovery> {
  for (const base of CHAIN_BASES) {
    const marker = yield { address: base, count: 2 };
    if (!marker.ok || !MARKER.every((word, at) => marker.registers[at] === word)) continue;
    const { models, problems } = yield* walk(base + 2);
    const found = [...problems, ...models.flatMap(lengthProblems)];
    if (chainNeeded && !models.some(({ id }) => watchedModel(id) !== undefined))
      return { ok: false, problems: [...found, nothingToWatch(models)] };
    const identity = yield* readIdentity(models);
    return { ok: true, chain: { base, models, identity }, problems: found };
  }
  if (!chainNeeded) return { ok: true, chain: { base: 0, models: [], identity: null }, problems: [] };
  const text = `There is no SunSpec marker at ${CHAIN_BASES.join(", ")}.`;
  return { ok: false, problems: [{ code: "SUNSPEC_MARKER_MISSING", text }] };
}

interface Walked {
  readonly models: readonly PlacedModel[];
  readonly problems: readonly SunspecProblem[];
}

function* walk(start: number): Reader<Walked> {
  const models: PlacedModel[] = [];
  const stop = (code: SunspecCode, text: string): Walked => ({ models, problems: [{ code, text }] });
  for (let address = start; models.length < MOST_MODELS; ) {
    if (address + 1 >= ADDRESS_SPACE)
      return stop("SUNSPEC_CHAIN_PAST_END", "The chain runs past the last register without an end.");
    const header = yield* readHeader(address);
    if (header === null)
      return stop("SUNSPEC_CHAIN_CUT", `The device refuses to read the next model at ${String(address)}.`);
    const { id, length } = header;
    if (id === END_MODEL) return { models, problems: firstModelProblems(models) };
    const model = { id, address, length };
    if (id === 0 || length === 0)
      return stop(
        "SUNSPEC_MODEL_EMPTY",
        `Model ${String(id)} at ${String(address)} has a length of ${String(length)}.`,
      );
    if (endOf(model) > ADDRESS_SPACE) return stop("SUNSPEC_LENGTH_ABSURD", absurdLength(model));
    models.push(model);
    address = endOf(model);
  }
  return stop("SUNSPEC_CHAIN_ENDLESS", `The chain has not ended after ${String(MOST_MODELS)} models.`);
}

function absurdLength({ id, address, length }: PlacedModel): string {
  return `Model ${String(id)} at ${String(address)} gives a length of ${String(length)}, beyond the last register.`;
}

/** ID and L; some devices do not serve the L of the end model, so that the ID is asked for alone. */
function* readHeader(address: number): Reader<{ readonly id: number; readonly length: number } | null> {
  const both = yield { address, count: 2 };
  const [id, length] = both.ok ? both.registers : [];
  if (id !== undefined && length !== undefined) return { id, length };
  const alone = yield { address, count: 1 };
  return alone.ok && alone.registers[0] === END_MODEL ? { id: END_MODEL, length: 0 } : null;
}

function firstModelProblems(models: readonly PlacedModel[]): readonly SunspecProblem[] {
  const first = models[0];
  if (first === undefined || first.id === COMMON_MODEL) return [];
  const text = `The chain begins with model ${String(first.id)}, so that the device does not name itself.`;
  return [{ code: "SUNSPEC_COMMON_MISSING", text }];
}

/** A watched model that is shorter than the standard has it, or whose blocks do not come out even. */
function lengthProblems(model: PlacedModel): readonly SunspecProblem[] {
  const shape = watchedModel(model.id);
  if (shape === undefined) return [];
  const fits = shape.length + blockCount(model) * (shape.blocks?.size ?? 0) === model.length;
  if (fits) return [];
  const text = `Model ${String(model.id)} at ${String(model.address)} has a length of ${String(model.length)}; what lies beyond it is not read.`;
  return [{ code: "SUNSPEC_LENGTH_UNUSUAL", text }];
}

function nothingToWatch(models: readonly PlacedModel[]): SunspecProblem {
  const ids = models.map(({ id }) => id).join(", ");
  const text =
    ids === ""
      ? "The chain is empty."
      : `The device offers the models ${ids}, and none of them tells an earth fault or insulation.`;
  return { code: "SUNSPEC_NOTHING_TO_WATCH", text };
}

/** Texts of the common model, as offsets and lengths in registers. */
const TEXTS = { maker: [2, 16], model: [18, 16], version: [42, 8], serial: [50, 16] } as const;
const TEXTS_END = 66;

function* readIdentity(models: readonly PlacedModel[]): Reader<Identity | null> {
  const read = identityRead(models);
  return read === null ? null : identityOf(read, yield read);
}

/** The read that tells whether the device at this place is still the same one; null where it does not name itself. */
export function identityRead(models: readonly PlacedModel[]): RegisterRead | null {
  const common = models.find(({ id }) => id === COMMON_MODEL);
  if (common === undefined || common.length + 2 < TEXTS_END) return null;
  return { address: common.address + TEXTS.maker[0], count: TEXTS_END - TEXTS.maker[0] };
}

export function identityOf(read: RegisterRead, answer: RegisterAnswer): Identity | null {
  if (!answer.ok) return null;
  const image = imageOf([{ address: read.address, registers: answer.registers }]);
  const text = (name: keyof typeof TEXTS): string =>
    readText(image, read.address - TEXTS.maker[0] + TEXTS[name][0], TEXTS[name][1]);
  return { maker: text("maker"), model: text("model"), version: text("version"), serial: text("serial") };
}
