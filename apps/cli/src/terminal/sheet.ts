/** Signs of the trade in ASCII. What is not listed becomes a question mark. */
const inAscii: Readonly<Record<string, string>> = {
  "\u00a0": " ",
  "\u2009": " ",
  Ω: "ohm",
  µ: "u",
  "−": "-",
  "–": "-",
  "—": "-",
  "‘": "'",
  "’": "'",
  "“": '"',
  "”": '"',
  "…": "...",
  "≥": ">=",
  "≤": "<=",
  "≈": "~",
  "×": "x",
  "·": ".",
  "°": "",
  "²": "2",
  "½": "1/2",
  "⅓": "1/3",
  "⅔": "2/3",
  "→": "->",
  "←": "<-",
  "±": "+/-",
  "√": "sqrt ",
  "\ufffd": "?",
};

/**
 * Lines as they leave for the terminal: each ended, no-break spaces turned into ordinary ones (they have done their work,
 * and text should be searchable), and everything in ASCII where the terminal shows nothing else.
 */
export function sheetText(lines: readonly string[], ascii: boolean): string {
  if (lines.length === 0) return "";
  const text = `${lines.join("\n")}\n`.replaceAll("\u00a0", " ");
  if (!ascii) return text;
  return text.replace(/[^\u0000-\u007f]/gu, (sign) => inAscii[sign] ?? "?");
}
