import { UNITS, type Dimension } from "./dimension.ts";
import type { ParseOptions } from "./parse-quantity.ts";

/** How the normal form of a unit may be written; the counterpart of `normalUnit`. */
const SPELLINGS: readonly (readonly [normal: string, pattern: string])[] = [
  // A number that runs into the 1 of 1/K would be another number.
  ["1", String.raw`(?<=\s)1`],
  ["(", String.raw`\(?`],
  [")", String.raw`\)?`],
  ["Ω·", String.raw`(?:Ω|\u2126|ohms?)[\s.·⋅∙*×]*`],
  ["Ω", String.raw`(?:Ω|\u2126|ohms?)`],
  ["µ", "[µ\u03BCu]"],
  ["²", String.raw`(?:²|\^?2)`],
  ["°C", "(?:[°º]C|\u2103|degC)"],
  ["dB", String.raw`dB\s*`],
];

/**
 * A regular expression for the texts that `parseQuantity` reads as this dimension, for editors that check a file while it is
 * typed. It says nothing of the size of the number.
 *
 * Check: quantity-pattern.test.ts holds it against the parser in both directions.
 */
export function quantityPattern(dimension: Dimension, options: ParseOptions = {}): string {
  const units = UNITS[dimension].map((unit) => unitPattern(unit.symbol));
  const bare = dimension === "ratio" || options.bareNumber === "base unit" ? "?" : "";
  return String.raw`^\s*[+\-−]?(?:\d+\.?\d*|\.\d+)(?:[eE][+\-−]?\d+)?\s*(?:${units.join("|")})${bare}\s*$`;
}

function unitPattern(symbol: string): string {
  if (symbol === "") return "";
  const [normal, pattern] = SPELLINGS.find(([start]) => symbol.startsWith(start)) ?? [symbol[0]!, symbol[0]!];
  return pattern + unitPattern(symbol.slice(normal.length));
}
