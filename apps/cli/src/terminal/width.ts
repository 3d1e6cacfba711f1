/**
 * How many columns a text takes on a terminal.
 *
 * Counted per grapheme: wide and fullwidth characters (Unicode UAX #11) and characters shown as emoji take two columns,
 * combining marks and other zero-width characters none, control characters none, everything else one. Colour codes
 * (SGR sequences) take none. Ambiguous-width characters count as one, as terminals outside East Asian locales do.
 * Check: width.test.ts compares every code point of the basic plane with Python's `unicodedata`.
 */
export function displayWidth(text: string): number {
  const bare = withoutInk(text);
  if (/^[\u0020-\u007e]*$/u.test(bare)) return bare.length;
  if (bare.length === 1) return graphemeWidth(bare);
  let columns = 0;
  for (const { segment } of graphemes.segment(bare)) columns += graphemeWidth(segment);
  return columns;
}

const graphemes = new Intl.Segmenter("en", { granularity: "grapheme" });

const inkCode = /\u001b\[[0-9;]*m/gu;

/** The text without colour codes. */
export function withoutInk(text: string): string {
  return text.replace(inkCode, "");
}

/** The graphemes of a text with their widths. */
export function* eachGrapheme(text: string): Generator<{ readonly text: string; readonly columns: number }> {
  for (const { segment } of graphemes.segment(text)) yield { text: segment, columns: graphemeWidth(segment) };
}

function graphemeWidth(grapheme: string): number {
  if (/^[\p{Mark}\p{Control}\p{Format}\p{Zl}\p{Zp}]+$/u.test(grapheme)) return 0;
  if (/^\p{Emoji_Presentation}/u.test(grapheme) || /^\p{Emoji}\ufe0f/u.test(grapheme)) return 2;
  return isWide(grapheme.codePointAt(0)!) ? 2 : 1;
}

/** First and last code points of the wide and fullwidth ranges [Unicode UAX #11, EastAsianWidth.txt; published]. */
const wideRanges: readonly (readonly [number, number])[] = [
  [0x1100, 0x115f],
  [0x231a, 0x231b],
  [0x2329, 0x232a],
  [0x2e80, 0x2e99],
  [0x2e9b, 0x2ef3],
  [0x2f00, 0x2fd5],
  [0x2ff0, 0x303e],
  [0x3041, 0x3096],
  [0x3099, 0x30ff],
  [0x3105, 0x312f],
  [0x3131, 0x318e],
  [0x3190, 0x31e5],
  [0x31ef, 0x321e],
  [0x3220, 0x3247],
  [0x3250, 0x4dbf],
  [0x4e00, 0xa48c],
  [0xa490, 0xa4c6],
  [0xa960, 0xa97c],
  [0xac00, 0xd7a3],
  [0xf900, 0xfaff],
  [0xfe10, 0xfe19],
  [0xfe30, 0xfe52],
  [0xfe54, 0xfe66],
  [0xfe68, 0xfe6b],
  [0xff01, 0xff60],
  [0xffe0, 0xffe6],
  [0x16fe0, 0x18cff],
  [0x1aff0, 0x1b2fb],
  [0x1f200, 0x1f265],
  [0x20000, 0x3fffd],
];

function isWide(codePoint: number): boolean {
  return wideRanges.some(([first, last]) => codePoint >= first && codePoint <= last);
}
