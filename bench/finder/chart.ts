/**
 * Plots in the look of an engineer's field book: paper, ink, hairlines, one copper accent for what is ours. A panel is a
 * pure function of its data; a plate puts panels side by side under one title.
 */
const PAPER = "#faf8f3";
const INK = "#1d2321";
const HAIRLINE = "#d9d4c7";
const SECONDARY = "#5d6560";
const COPPER = "#9a4a1f";
const FONT = "font-family=\"'Source Sans 3', 'Gill Sans', 'Noto Sans', sans-serif\"";

export interface Axis {
  readonly label: string;
  readonly from: number;
  readonly to: number;
  readonly scale: "even" | "log";
  readonly ticks: readonly (readonly [number, string])[];
}

/** ours is copper; other is ink, dashed; bound is a thin ink line; the rest are marks of their own. */
export type Stroke = "ours" | "other" | "bound";

export interface Line {
  readonly label: string;
  readonly stroke: Stroke;
  readonly points: readonly (readonly [number, number])[];
  /** Half-length of the error bar of each point, in the unit of y. */
  readonly errors?: readonly number[];
  /** Where the label stands beside the last point, in pixels down. */
  readonly labelDown?: number;
}

export interface Panel {
  readonly title: string;
  readonly x: Axis;
  readonly y: Axis;
  readonly lines: readonly Line[];
  /** Horizontal rule with a word on it, such as a bar that was set. */
  readonly rules?: readonly { readonly y: number; readonly label: string }[];
}

const WIDTH = 340;
const HEIGHT = 240;
const MARGIN = { left: 62, right: 96, top: 54, bottom: 52 };
/** Height of the title and of each line under it. */
const HEAD = { title: 44, line: 20 };

const STROKES: Readonly<Record<Stroke, string>> = {
  ours: `stroke="${COPPER}" stroke-width="2.2"`,
  other: `stroke="${INK}" stroke-width="1.4" stroke-dasharray="5 4"`,
  bound: `stroke="${INK}" stroke-width="1"`,
};
const INKS: Readonly<Record<Stroke, string>> = { ours: COPPER, other: INK, bound: SECONDARY };

const escaped = (text: string): string => text.replaceAll("&", "&amp;").replaceAll("<", "&lt;");

/** The panels side by side on one sheet of paper, with a title and lines that say what is seen. */
export function plate(title: string, caption: readonly string[], panels: readonly Panel[]): string {
  const panelWidth = MARGIN.left + WIDTH + MARGIN.right;
  const width = panelWidth * panels.length;
  const head = HEAD.title + HEAD.line * caption.length;
  const height = head + MARGIN.top + HEIGHT + MARGIN.bottom;
  const drawn = panels.map(
    (panel, i) =>
      `<g transform="translate(${String(i * panelWidth)} ${String(head)})">${drawPanel(panel)}</g>`,
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${String(width)} ${String(height)}" width="${String(width)}" height="${String(height)}" ${FONT} role="img">`,
    `<title>${escaped(title)}</title><desc>${escaped(caption.join(" "))}</desc>`,
    `<rect width="100%" height="100%" fill="${PAPER}"/>`,
    `<text x="24" y="32" font-size="18" fill="${INK}">${escaped(title)}</text>`,
    ...caption.map((line, i) => text(24, HEAD.title + 10 + HEAD.line * i, line, { ink: SECONDARY })),
    ...drawn,
    "</svg>\n",
  ].join("\n");
}

function drawPanel(panel: Panel): string {
  const at = (axis: Axis, value: number, length: number): number => {
    const place = (v: number): number => (axis.scale === "log" ? Math.log(v) : v);
    return (length * (place(value) - place(axis.from))) / (place(axis.to) - place(axis.from));
  };
  const x = (value: number): number => MARGIN.left + at(panel.x, value, WIDTH);
  const y = (value: number): number => MARGIN.top + HEIGHT - at(panel.y, value, HEIGHT);
  return [
    text(MARGIN.left, 18, panel.title, { size: 15 }),
    ...panel.x.ticks.map(([value, label]) => tickX(x(value), label)),
    ...panel.y.ticks.map(([value, label]) => tickY(y(value), label)),
    `<path d="M${n(MARGIN.left)} ${n(MARGIN.top)}V${n(MARGIN.top + HEIGHT)}H${n(MARGIN.left + WIDTH)}" fill="none" stroke="${INK}" stroke-width="1"/>`,
    text(MARGIN.left + WIDTH, MARGIN.top + HEIGHT + 42, panel.x.label, { anchor: "end", ink: SECONDARY }),
    text(MARGIN.left - 50, MARGIN.top - 14, panel.y.label, { ink: SECONDARY }),
    ...(panel.rules ?? []).map((rule) => drawRule(y(rule.y), rule.label)),
    ...panel.lines.map((line) => drawLine(line, x, y)),
  ].join("\n");
}

function tickX(x: number, label: string): string {
  const bottom = MARGIN.top + HEIGHT;
  const line = `<path d="M${n(x)} ${n(MARGIN.top)}V${n(bottom)}" stroke="${HAIRLINE}" stroke-width="1"/>`;
  return line + text(x, bottom + 20, label, { anchor: "middle" });
}

function tickY(y: number, label: string): string {
  const line = `<path d="M${n(MARGIN.left)} ${n(y)}H${n(MARGIN.left + WIDTH)}" stroke="${HAIRLINE}" stroke-width="1"/>`;
  return line + text(MARGIN.left - 8, y + 4, label, { anchor: "end" });
}

function drawRule(y: number, label: string): string {
  const line = `<path d="M${n(MARGIN.left)} ${n(y)}H${n(MARGIN.left + WIDTH)}" stroke="${INK}" stroke-width="1" stroke-dasharray="1 3"/>`;
  return line + text(MARGIN.left + 6, y - 5, label, { ink: SECONDARY });
}

function drawLine(line: Line, x: (value: number) => number, y: (value: number) => number): string {
  const path = line.points.map(([px, py], i) => `${i === 0 ? "M" : "L"}${n(x(px))} ${n(y(py))}`).join("");
  const ink = INKS[line.stroke];
  const marks = line.points.map(([px, py], i) => {
    const error = line.errors?.[i] ?? 0;
    const bar =
      error > 0
        ? `<path d="M${n(x(px))} ${n(y(py - error))}V${n(y(py + error))}" stroke="${ink}" stroke-width="1"/>`
        : "";
    return `${bar}<circle cx="${n(x(px))}" cy="${n(y(py))}" r="2.6" fill="${line.stroke === "ours" ? COPPER : PAPER}" stroke="${ink}"/>`;
  });
  const [lastX, lastY] = line.points[line.points.length - 1]!;
  const label = text(x(lastX) + 8, y(lastY) + 4 + (line.labelDown ?? 0), line.label, { ink });
  return `<path d="${path}" fill="none" ${STROKES[line.stroke]}/>${marks.join("")}${label}`;
}

function text(
  x: number,
  y: number,
  words: string,
  {
    anchor = "start",
    size = 13,
    ink = INK,
  }: { anchor?: "start" | "middle" | "end"; size?: number; ink?: string } = {},
): string {
  return `<text x="${n(x)}" y="${n(y)}" font-size="${String(size)}" text-anchor="${anchor}" fill="${ink}">${escaped(words)}</text>`;
}

/** A coordinate to a tenth of a pixel. */
function n(value: number): string {
  return String(Math.round(value * 10) / 10);
}
