import type { Paper } from "../content/paper.ts";

/** Size of the type of a paper that takes as many pages as it needs [pt]. */
const RECORD_SIZE = 9.2;

/** Sizes of type of a paper of one page, the largest first [pt]. */
const NOTICE_SIZES = [13.5, 13, 12.5, 12, 11.5, 11, 10.5, 10, 9.5, 9, 8.5, 8];

/**
 * Size times the root of the number of characters, at which a page is just full. Found by laying out the owner's notices of the
 * 17 sites of the demo in both languages, with short, own and long names, in every size: at 510 the first size was the largest
 * that fits for 78 of 102, and never smaller than that.
 */
const FULL_PAGE = 510;

/**
 * Sizes of type in which to lay out a paper, in this order, until it fits its page. That of a notice begins where so much text
 * should fill the page: each layout that is tried costs as much as the paper itself.
 */
export function sizesToTry({ look, blocks }: Pick<Paper, "look" | "blocks">): readonly number[] {
  if (look !== "notice") return [RECORD_SIZE];
  const guess = FULL_PAGE / Math.sqrt(Math.max(1, charactersOf(blocks)));
  const sizes = NOTICE_SIZES.filter((size) => size <= guess);
  return sizes.length === 0 ? NOTICE_SIZES.slice(-1) : sizes;
}

/** Characters that are set as text; drawings are none. */
function charactersOf(value: unknown): number {
  if (typeof value === "string") return value.startsWith("<svg") ? 0 : value.length;
  if (typeof value !== "object" || value === null) return 0;
  return Object.values(value).reduce<number>((sum, one) => sum + charactersOf(one), 0);
}
