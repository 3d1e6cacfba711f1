import { type Drawing, line, mark, type Mark, round, stroked, words } from "./drawing.ts";

/** How far a link of a path is known to work: dash, break and word tell it, never colour alone. */
export type LinkState = "proven" | "unproven" | "silent" | "unknown";

export interface ChainLink {
  readonly kind: "array" | "detector" | "message" | "annunciator" | "indicator" | "person";
  readonly name: string;
  /** Short lines under the symbol. */
  readonly details: readonly string[];
}

/** What joins a link to the one after it. */
export interface ChainJoint {
  readonly state: LinkState;
  /** The date of the proof, the hour it went quiet, or what is not known. */
  readonly words: string;
}

export interface ChainInput {
  readonly title: string;
  readonly links: readonly ChainLink[];
  /** One fewer than links. */
  readonly joints: readonly ChainJoint[];
  /** Index of the weakest link, with what would mend it. */
  readonly weakest: { readonly link: number; readonly mend: string } | null;
  readonly width: number;
}

const SYMBOL = 40;
const STAND_BELOW = 560;
const STATE_WORDS: Readonly<Record<LinkState, string>> = {
  proven: "proven",
  unproven: "not proven",
  silent: "silent",
  unknown: "not known",
};

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
function symbolOf(kind: ChainLink["kind"], x: number, y: number): Mark[] {
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

/** Whole for proven, dashed for not proven, dotted for not known, with a gap between two strokes for silent. */
function jointLine(state: LinkState, from: readonly [number, number], to: readonly [number, number]): Mark[] {
  const [x1, y1] = from;
  const [x2, y2] = to;
  const ink = stroked("ink", 1.6);
  if (state === "proven") return [line(x1, y1, x2, y2, ink)];
  if (state === "unproven") return [line(x1, y1, x2, y2, { ...ink, "stroke-dasharray": "7 5" })];
  if (state === "unknown") return [line(x1, y1, x2, y2, { ...ink, "stroke-dasharray": "1.5 5" })];
  const at = (share: number): [number, number] => [x1 + share * (x2 - x1), y1 + share * (y2 - y1)];
  const [leftX, leftY] = at(0.42);
  const [rightX, rightY] = at(0.58);
  const across = x1 === x2 ? "l-6 0 m6 0 l6 0" : "l4 -7 m-4 7 l-4 7";
  return [
    line(x1, y1, leftX, leftY, ink),
    line(rightX, rightY, x2, y2, ink),
    mark("path", {
      d: `M${round(leftX)} ${round(leftY)} ${across} M${round(rightX)} ${round(rightY)} ${across}`,
      ...ink,
    }),
  ];
}

function wordsOf({ state, words: text }: ChainJoint): readonly string[] {
  return [STATE_WORDS[state], ...(text === "" ? [] : [text])];
}

function lying(input: ChainInput): Pick<Drawing, "marks" | "height"> {
  const { links, joints, weakest, width } = input;
  const pitch = (width - 120) / Math.max(1, links.length - 1);
  const y = 52;
  const xOf = (index: number): number => round(60 + index * pitch);
  const lines = Math.max(...links.map(({ details }) => details.length));
  const below = y + 40 + 16 * lines;
  const marks = links.flatMap((link, i) => [
    ...symbolOf(link.kind, xOf(i), y),
    words(xOf(i), y + 38, link.name, { anchor: "middle", bold: true }),
    ...link.details.map((text, n) =>
      words(xOf(i), y + 54 + 15 * n, text, { anchor: "middle", ink: "soft", size: 11 }),
    ),
  ]);
  const between = joints.flatMap((joint, i) => [
    ...jointLine(joint.state, [xOf(i) + 26, y], [xOf(i + 1) - 26, y]),
    ...wordsOf(joint).map((text, n) =>
      words((xOf(i) + xOf(i + 1)) / 2, y - 24 + 13 * n, text, {
        anchor: "middle",
        size: 11,
        ink: n === 0 ? "ink" : "soft",
      }),
    ),
  ]);
  const bracket =
    weakest === null
      ? []
      : [
          mark("path", {
            d: `M${xOf(weakest.link) - 44} ${below + 6} v8 h88 v-8`,
            ...stroked("ink", 3.2),
          }),
          words(Math.min(width - 8, Math.max(8, xOf(weakest.link))), below + 32, `weakest: ${weakest.mend}`, {
            anchor: weakest.link === 0 ? "start" : weakest.link > links.length - 3 ? "end" : "middle",
          }),
        ];
  return { marks: [...marks, ...between, ...bracket], height: below + (weakest === null ? 12 : 44) };
}

/** The same from top to bottom, for a narrow page. */
function standing({ links, joints, weakest }: ChainInput): Pick<Drawing, "marks" | "height"> {
  const pitch = 108;
  const x = 34;
  const yOf = (index: number): number => 30 + index * pitch;
  const marks = links.flatMap((link, i) => [
    ...symbolOf(link.kind, x, yOf(i)),
    words(x + 36, yOf(i) - 4, link.name, { bold: true, size: 13 }),
    ...link.details.map((text, n) => words(x + 36, yOf(i) + 12 + 14 * n, text, { ink: "soft", size: 11 })),
    ...(weakest?.link === i
      ? [
          mark("path", { d: `M8 ${yOf(i) - 24} h-5 v48 h5`, ...stroked("ink", 3.2) }),
          words(x + 36, yOf(i) + 12 + 14 * link.details.length, `weakest: ${weakest.mend}`, { size: 11 }),
        ]
      : []),
  ]);
  const between = joints.flatMap((joint, i) => [
    ...jointLine(joint.state, [x, yOf(i) + 24], [x, yOf(i + 1) - 24]),
    words(x + 12, yOf(i) + pitch / 2 + 12, wordsOf(joint).join(", "), { size: 11 }),
  ]);
  return { marks: [...marks, ...between], height: yOf(links.length - 1) + 56 };
}

/**
 * A path from the array over the detector and the signal to a person, left to right where there is room.
 *
 * A whole line is proven, a dashed one not proven, a dotted one not known, a broken one silent; the words stand beside it.
 */
export function drawChain(input: ChainInput): Drawing {
  const width = Math.max(2 * SYMBOL, Math.round(input.width));
  const drawn = width < STAND_BELOW ? standing({ ...input, width }) : lying({ ...input, width });
  return {
    width,
    ...drawn,
    title: input.title,
    table: {
      caption: input.title,
      columns: ["Link", "What", "To the next link"],
      rows: input.links.map(({ name, details }, i) => [
        name,
        details.join("; "),
        input.joints[i] === undefined ? "" : wordsOf(input.joints[i]).join(", "),
      ]),
    },
  };
}
