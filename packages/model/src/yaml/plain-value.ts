/**
 * The value of an unquoted scalar after the YAML 1.2 core schema: null, true, false, a number, else the text itself.
 * A date and a quantity stay text.
 */
export function plainValue(text: string): unknown {
  const first = text.charCodeAt(0);
  // Digits, sign, point: the only starts of a number.
  if ((first >= 48 && first <= 57) || first === 43 || first === 45 || first === 46) return numberOr(text);
  return WORDS.has(text) ? WORDS.get(text) : text;
}

const WORDS: ReadonlyMap<string, unknown> = new Map<string, unknown>([
  ["", null],
  ...["~", "null", "Null", "NULL"].map((word): [string, unknown] => [word, null]),
  ...["true", "True", "TRUE"].map((word): [string, unknown] => [word, true]),
  ...["false", "False", "FALSE"].map((word): [string, unknown] => [word, false]),
]);

const DECIMAL = /^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?$/u;

function numberOr(text: string): unknown {
  if (DECIMAL.test(text)) return Number(text);
  if (/^0x[0-9a-fA-F]+$|^0o[0-7]+$/u.test(text)) return Number(text);
  if (/^\+?\.(?:inf|Inf|INF)$/u.test(text)) return Infinity;
  if (/^-\.(?:inf|Inf|INF)$/u.test(text)) return -Infinity;
  if (/^\.(?:nan|NaN|NAN)$/u.test(text)) return Number.NaN;
  return text;
}
