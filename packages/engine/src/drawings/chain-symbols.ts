import { mark, type Mark, round, stroked, words } from "./drawing.ts";

export type LinkKind = "array" | "detector" | "message" | "annunciator" | "indicator" | "person";

const box = (x: number, y: number, half: number, ...inside: Mark[]): Mark[] => [
  mark("rect", {
    x: round(x - half),
    y: round(y - half),
    width: 2 * half,
    height: 2 * half,
    ...stroked("ink", 1.5),
  }),
  ...inside,
];

/** Symbols after IEC 60617 as remembered, where there is one: generator square, "R<" for an insulation device, lamp, sounder. */
export function symbolOf(kind: LinkKind, x: number, y: number): Mark[] {
  const ink = stroked("ink", 1.5);
  switch (kind) {
    case "array":
      return box(
        x,
        y,
        18,
        mark("path", {
          d: `M${x - 18} ${y - 18} L${x} ${y} L${x + 18} ${y - 18} M${x} ${y} V${y + 18}`,
          ...ink,
        }),
      );
    case "detector":
      return box(x, y, 18, words(x, y + 5, "R <", { anchor: "middle", size: 14 }));
    case "message":
      return [
        mark("path", {
          d: `M${x} ${y + 18} V${y - 4} M${x - 7} ${y + 18} L${x} ${y - 4} L${x + 7} ${y + 18}`,
          ...ink,
        }),
        mark("path", {
          d: `M${x - 8} ${y - 12} a8 8 0 0 0 0 14 M${x + 8} ${y - 12} a8 8 0 0 1 0 14`,
          ...ink,
        }),
        mark("path", {
          d: `M${x - 14} ${y - 17} a15 15 0 0 0 0 24 M${x + 14} ${y - 17} a15 15 0 0 1 0 24`,
          ...ink,
        }),
      ];
    case "annunciator":
      return [
        mark("path", {
          d: `M${x - 10} ${y - 16} a16 16 0 0 1 0 32 z M${x + 12} ${y - 10} l8 -5 M${x + 13} ${y} h9 M${x + 12} ${y + 10} l8 5`,
          ...ink,
        }),
      ];
    case "indicator":
      return [
        mark("circle", { cx: x, cy: y, r: 16, ...ink }),
        mark("path", { d: `M${x - 11} ${y - 11} l22 22 M${x - 11} ${y + 11} l22 -22`, ...ink }),
      ];
    case "person":
      return [
        mark("circle", { cx: x, cy: y - 9, r: 7, ...ink }),
        mark("path", { d: `M${x - 14} ${y + 18} a14 15 0 0 1 28 0`, ...ink }),
      ];
  }
}
