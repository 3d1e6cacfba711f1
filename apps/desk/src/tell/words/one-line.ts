/** Longest name that a message repeats, in characters as people count them. */
const NAME_LENGTH = 80;
/** No character counts for more code units than this, however many marks are heaped on it. */
const WIDEST = 16;

/** Control characters, line ends of every kind, and marks that turn the direction of what follows. */
const UNSAFE = /[\p{Cc}\u061c\u200b\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]+/gu;
const LONE_SURROGATE = /\p{Cs}/gu;

const characters = new Intl.Segmenter("en", { granularity: "grapheme" });

/**
 * A text from a file or a device as one line that is safe in a subject, a header and a list: no line can be begun in it,
 * the direction of writing cannot be turned by it, and it is cut between characters, not inside an emoji.
 */
export function oneLine(text: string, longest: number = NAME_LENGTH): string {
  const head = text.slice(0, 2 * WIDEST * longest);
  const clean = head.replace(LONE_SURROGATE, "\ufffd").replace(UNSAFE, " ").replace(/\s+/gu, " ").trim();
  if (clean.length <= longest) return clean;
  const segments = [...characters.segment(clean)].map(({ segment }) => segment);
  const kept = segments.length > longest ? [...segments.slice(0, longest - 1), "…"] : segments;
  return kept.map((segment) => (segment.length > WIDEST ? "\ufffd" : segment)).join("");
}
