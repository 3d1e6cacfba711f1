import { type LinkKind, symbolOf } from "./chain-symbols.ts";
import { type Drawing, line, mark, type Mark, round, stroked, words } from "./drawing.ts";

/** How far a link of a path is known to work: dash, break and word tell it, never colour alone. */
export type LinkState = "proven" | "unproven" | "silent" | "unknown";

export interface ChainLink {
  readonly kind: LinkKind;
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

const LEAST_WIDTH = 240;
const STAND_BELOW = 560;
const STATE_WORDS: Readonly<Record<LinkState, string>> = {
  proven: "proven",
  unproven: "not proven",
  silent: "silent",
  unknown: "not known",
};

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

/** Words folded at spaces to the characters that fit a width, by the usual width of a letter of this size. */
function folded(text: string, width: number): readonly string[] {
  const most = Math.max(12, Math.floor(width / 6));
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + word.length < most) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

const MEND_LINE = 15;
/** Width of a letter of a detail and of a name, and what lies between the outer links and the edge. */
const DETAIL_LETTER = 6.1;
const NAME_LETTER = 8;
const EDGE = 60;
/** Lines under a symbol; what is longer is told whole by the table. */
const MOST_LINES = 4;

/** No more than so many letters, the last one an ellipsis where there are more. */
function shortened(text: string, most: number): string {
  const letters = Array.from(text);
  return letters.length <= most ? text : `${letters.slice(0, most - 1).join("")}…`;
}

/** The details of a link as lines that stay under its symbol. */
function detailLines({ details }: ChainLink, width: number): readonly string[] {
  const most = Math.floor(width / DETAIL_LETTER);
  const lines = details.flatMap((text) => folded(text, most * 6)).map((text) => shortened(text, most));
  return lines.length <= MOST_LINES ? lines : [...lines.slice(0, MOST_LINES - 1), "…"];
}

function lying(input: ChainInput): Pick<Drawing, "marks" | "height"> {
  const { links, joints, weakest, width } = input;
  const pitch = (width - 2 * EDGE) / Math.max(1, links.length - 1);
  const y = 52;
  const xOf = (index: number): number => round(EDGE + index * pitch);
  const room = Math.min(pitch, 2 * EDGE);
  const details = links.map((link) => detailLines(link, room));
  const lines = Math.max(...details.map(({ length }) => length));
  const below = y + 40 + 16 * lines;
  const marks = links.flatMap((link, i) => [
    ...symbolOf(link.kind, xOf(i), y),
    words(xOf(i), y + 38, shortened(link.name, Math.floor(room / NAME_LETTER)), {
      anchor: "middle",
      bold: true,
    }),
    ...details[i]!.map((text, n) =>
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
  if (weakest === null) return { marks: [...marks, ...between], height: below + 12 };
  const mend = folded(`weakest: ${weakest.mend}`, width / 2);
  const anchor = weakest.link === 0 ? "start" : weakest.link === links.length - 1 ? "end" : "middle";
  const x = xOf(weakest.link) + { start: -44, middle: 0, end: 44 }[anchor];
  const bracket = [
    mark("path", { d: `M${xOf(weakest.link) - 44} ${below + 6} v8 h88 v-8`, ...stroked("ink", 3.2) }),
    ...mend.map((text, n) => words(x, below + 32 + MEND_LINE * n, text, { anchor })),
  ];
  return { marks: [...marks, ...between, ...bracket], height: below + 24 + MEND_LINE * mend.length };
}

/** The same from top to bottom, for a narrow page. */
function standing({ links, joints, weakest, width }: ChainInput): Pick<Drawing, "marks" | "height"> {
  const x = 34;
  const besides = x + 36;
  const marks: Mark[] = [];
  let y = 30;
  links.forEach((link, i) => {
    const mend = weakest?.link === i ? folded(`weakest: ${weakest.mend}`, width - besides) : [];
    const lines = [...link.details.flatMap((text) => folded(text, width - besides)), ...mend];
    const next = y + 74 + 14 * lines.length;
    marks.push(
      ...symbolOf(link.kind, x, y),
      words(besides, y - 4, link.name, { bold: true, size: 13 }),
      ...lines.map((text, n) =>
        words(besides, y + 13 + 14 * n, text, {
          ink: n < lines.length - mend.length ? "soft" : "ink",
          size: 12,
        }),
      ),
      ...(mend.length > 0 ? [mark("path", { d: `M9 ${y - 24} h-5 v48 h5`, ...stroked("ink", 3.2) })] : []),
    );
    const joint = joints[i];
    if (joint !== undefined)
      marks.push(
        ...jointLine(joint.state, [x, y + 24], [x, next - 24]),
        words(besides, next - 32, wordsOf(joint).join(", "), { size: 11 }),
      );
    y = joint === undefined ? next - 36 : next;
  });
  return { marks, height: y };
}

/**
 * A path from the array over the detector and the signal to a person, left to right where there is room.
 *
 * A whole line is proven, a dashed one not proven, a dotted one not known, a broken one silent; the words stand beside it.
 */
export function drawChain(input: ChainInput): Drawing {
  const width = Math.max(LEAST_WIDTH, Math.round(input.width));
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
