import type { Block } from "../content/paper.ts";

/** Sizes of type that are tried for a paper of one page, the largest first [pt]. */
export const NOTICE_SIZES = [13.5, 13, 12.5, 12, 11.5, 11, 10.5, 10, 9.5, 9, 8.5, 8];

/**
 * Size times the root of the number of characters, at which a page is just full. Found from the owner's notices of the demo in
 * both languages: 473 to 523. A little above the middle, because a size too large costs one trial fewer than one too small.
 */
const FULL_PAGE = 510;

/**
 * Which of the sizes to try first: the one at which this much text should fill the page. It decides how many layouts are tried
 * and never which size is taken.
 */
export function firstSize(blocks: readonly Block[]): number {
  const guess = FULL_PAGE / Math.sqrt(Math.max(1, charactersOf(blocks)));
  const index = NOTICE_SIZES.findIndex((size) => size <= guess);
  return index < 0 ? NOTICE_SIZES.length - 1 : index;
}

/** Characters that are set as text; drawings are none. */
function charactersOf(value: unknown): number {
  if (typeof value === "string") return value.startsWith("<svg") ? 0 : value.length;
  if (typeof value !== "object" || value === null) return 0;
  return Object.values(value).reduce<number>((sum, one) => sum + charactersOf(one), 0);
}
