import { DIMENSIONS, UNITS, type Dimension, type Unit } from "./dimension.ts";

/**
 * Reduces a written unit to its normal form: "Mohm.m2", "MΩ m²" and "MΩ·m²" are one unit. Case is kept, because mΩ and
 * MΩ differ by a thousand million.
 */
export function normalUnit(written: string): string {
  return written
    .replace(/\u2126/gu, "Ω")
    .replace(/[\u03BC\u00B5]/gu, "µ")
    .replace(/^u(?=[A-ZΩo])/u, "µ")
    .replace(/ohms?/gu, "Ω")
    .replace(/\^?2/gu, "²")
    .replace(/\u2103|[°º]C|degC/gu, "°C")
    .replace(/Ω[\s.·⋅∙*×]*m²$/u, "Ω·m²")
    .replace(/^dB\s*\(?A\)?$/u, "dB(A)");
}

const unitsByDimension = new Map<Dimension, ReadonlyMap<string, Unit>>(
  DIMENSIONS.map((dimension) => [dimension, new Map(UNITS[dimension].map((unit) => [unit.symbol, unit]))]),
);

/** The unit of that spelling in that dimension. */
export function unitOf(written: string, dimension: Dimension): Unit | undefined {
  const units = unitsByDimension.get(dimension);
  return units?.get(written) ?? units?.get(normalUnit(written));
}

/** Which other dimension a unit belongs to, when it is a unit at all: "V" where ohms are wanted is a voltage. */
export function dimensionOf(written: string): Dimension | undefined {
  const normal = normalUnit(written);
  if (normal === "") return undefined;
  return DIMENSIONS.find((dimension) => unitsByDimension.get(dimension)?.has(normal));
}

/** Whether a word of a text is a unit, with or without what closes a sentence after it. */
export function isUnit(word: string): boolean {
  return [word, word.replace(/[^\p{Letter}\d%‰²]+$/u, "")].some((one) => dimensionOf(one) !== undefined);
}

/** A text in which no line ends between a number and its unit: the space there is a no-break space. */
export function holdUnits(text: string): string {
  return text.replace(/(?<=[\d½⅓⅔]) (\S+)/gu, (found, word: string) =>
    isUnit(word) ? `\u00a0${word}` : found,
  );
}

/** Units of the dimension that are the same but for capitals: for "kw" it is kW, for "MOHM" both mΩ and MΩ. */
export function unitsInOtherCase(written: string, dimension: Dimension): string[] {
  const folded = normalUnit(written.toLowerCase()).toLowerCase();
  return UNITS[dimension].map((unit) => unit.symbol).filter((symbol) => symbol.toLowerCase() === folded);
}
