import { parseQuantity } from "@earthbell/engine";

/** Marks for "no reading here". */
const NOTHING = /^(?:|-|–|na|n\/a|nan|null|none|missing|---)$/iu;
/** Marks for "beyond the instrument". */
const OVER = /^(?:ol|o\.l\.|over|overrange|inf|\+inf|infinity|∞)$/iu;

export type ValueCell =
  | { readonly kind: "nothing" }
  | { readonly kind: "over" }
  | { readonly kind: "bare"; readonly number: number; readonly bound?: "at-least" | "at-most" }
  | { readonly kind: "ohms"; readonly ohms: number; readonly bound?: "at-least" | "at-most" }
  | { readonly kind: "invalid"; readonly why: string };

/** Reads an insulation cell: a number, a number with its unit, a bound (`>20 MΩ`), over-range, or nothing. */
export function readValueCell(text: string, decimal: "point" | "comma"): ValueCell {
  const trimmed = text.trim();
  if (NOTHING.test(trimmed)) return { kind: "nothing" };
  if (OVER.test(trimmed)) return { kind: "over" };
  const [, sign = "", rest = ""] = /^([<>]=?|[≤≥])?\s*(.*)$/su.exec(trimmed)!;
  const bounded = boundOf(sign);
  const number = numberOf(rest, decimal);
  if (number !== null) return { kind: "bare", number, ...bounded };
  const quantity = parseQuantity(decimal === "comma" ? rest.replace(",", ".") : rest, "resistance");
  if (quantity.ok) return { kind: "ohms", ohms: quantity.value, ...bounded };
  return { kind: "invalid", why: quantity.problem.message };
}

function boundOf(sign: string): { readonly bound?: "at-least" | "at-most" } {
  if (sign === "") return {};
  return { bound: /[>≥]/u.test(sign) ? "at-least" : "at-most" };
}

/** A bare number; null for anything else. */
export function numberOf(text: string, decimal: "point" | "comma"): number | null {
  const trimmed = text.trim().replace(/\u2212/gu, "-");
  const plain = decimal === "comma" ? trimmed.replace(",", ".") : trimmed;
  return /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/iu.test(plain) ? Number(plain) : null;
}

export function isNothing(text: string): boolean {
  return NOTHING.test(text.trim());
}
