/** One element of a drawing: a tag of SVG with its attributes and children. */
export interface Mark {
  readonly tag: string;
  readonly attributes: Readonly<Record<string, string | number>>;
  readonly children: readonly (Mark | string)[];
}

/**
 * A drawing as data, so that the web app, the papers and other programs can each set it in their own way.
 *
 * Every drawing says in a sentence what it shows and holds the same as a table, for readers who do not see it.
 */
export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly title: string;
  readonly marks: readonly Mark[];
  readonly table: DrawingTable;
}

export interface DrawingTable {
  readonly caption: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

type Attributes = Mark["attributes"];

/** What an ink is on paper, and the class by which a page with another theme changes it. */
const FILLS = { ink: "#1d2321", soft: "#5d6560", copper: "#9a4a1f", paper: "#faf8f3" } as const;
const LINES = { ink: "#1d2321", soft: "#85806f", hair: "#d9d4c7", copper: "#9a4a1f" } as const;
export type Fill = keyof typeof FILLS;
export type Stroke = keyof typeof LINES;

export const mark = (tag: string, attributes: Attributes, ...children: (Mark | string)[]): Mark => ({
  tag,
  attributes,
  children,
});

export const filled = (ink: Fill): Attributes => ({ class: `${ink}-fill`, fill: FILLS[ink] });

export const stroked = (ink: Stroke, width = 1.2): Attributes => ({
  class: `${ink}-line`,
  stroke: LINES[ink],
  "stroke-width": width,
  fill: "none",
});

interface WordsStyle {
  readonly anchor?: "start" | "middle" | "end";
  readonly ink?: Fill;
  readonly size?: number;
  readonly bold?: boolean;
}

export function words(x: number, y: number, text: string, style: WordsStyle = {}): Mark {
  const { anchor = "start", ink = "ink", size = 12, bold = false } = style;
  return mark(
    "text",
    {
      x: round(x),
      y: round(y),
      "text-anchor": anchor,
      "font-size": size,
      ...(bold ? { "font-weight": 700 } : {}),
      ...filled(ink),
    },
    text,
  );
}

export const line = (x1: number, y1: number, x2: number, y2: number, style: Attributes): Mark =>
  mark("line", { x1: round(x1), y1: round(y1), x2: round(x2), y2: round(y2), ...style });

/** Tenths of a unit are finer than any screen or print shows. */
export const round = (value: number): number => Math.round(value * 10) / 10;

const escaped = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");

function markText({ tag, attributes, children }: Mark): string {
  const written = Object.entries(attributes)
    .map(([name, value]) => ` ${name}="${escaped(String(value))}"`)
    .join("");
  const inside = children
    .map((child) => (typeof child === "string" ? escaped(child) : markText(child)))
    .join("");
  return inside === "" ? `<${tag}${written}/>` : `<${tag}${written}>${inside}</${tag}>`;
}

/** The drawing as a whole SVG document in its paper colours, without scripts, styles or references. */
export function svgText({ width, height, title, marks }: Drawing): string {
  return markText(
    mark(
      "svg",
      {
        xmlns: "http://www.w3.org/2000/svg",
        viewBox: `0 0 ${width} ${height}`,
        width,
        height,
        role: "img",
        "font-family": "DejaVu Sans, sans-serif",
      },
      mark("title", {}, title),
      ...marks,
    ),
  );
}
