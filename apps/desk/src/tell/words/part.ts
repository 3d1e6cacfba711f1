/**
 * One part of a message: a heading with what it holds, or lines without a heading. Printed in the plain layout that
 * html-of-text.ts reads back, so that the two forms of a message cannot disagree.
 */
export interface Part {
  readonly heading?: string;
  readonly lines?: readonly string[];
  readonly list?: readonly string[];
}

/** Parts that hold nothing are left out. */
export function textOfParts(parts: readonly Part[]): string {
  return parts
    .filter(({ lines = [], list = [] }) => lines.length + list.length > 0)
    .map(({ heading, lines = [], list = [] }) =>
      [...(heading === undefined ? [] : [`${heading}:`]), ...lines, ...list.map((item) => `- ${item}`)].join(
        "\n",
      ),
    )
    .join("\n\n");
}
