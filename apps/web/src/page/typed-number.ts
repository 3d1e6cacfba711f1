/** A number as people type it: a comma counts as the decimal point unless three digits follow it, for then it may part thousands. */
export function withDecimalPoint(text: string): string {
  return /^\s*[+−-]?\d+,\d+\s*$/u.test(text) && !/,\d{3}\s*$/u.test(text) ? text.replace(",", ".") : text;
}
