import type { Coverage, CoverageMap, Phase } from "../detector-coverage/index.ts";
import { type Drawing, filled, line, mark, type Mark, round, stroked, words } from "./drawing.ts";

export interface CoverageGridInput {
  readonly title: string;
  readonly map: CoverageMap;
  readonly phase: Phase;
  readonly width: number;
}

const LEFT = 46;
const TOP = 26;
const CELL_HEIGHT = 15;
/** Least width of a decade in which each has its words. */
const DECADE_WORDS = 52;

const SOON_WORDS: Readonly<Record<Coverage["soon"], string>> = {
  "at-once": "seen at once",
  "next-start": "seen at the next start",
  never: "seen by nothing",
};

/** Full ink, half-height ink, a cross: told apart without colour, and on a copier. */
function cell(soon: Coverage["soon"], x: number, y: number, width: number): Mark[] {
  const w = round(width - 1.5);
  const h = CELL_HEIGHT - 2;
  if (soon === "at-once") return [mark("rect", { x: round(x), y, width: w, height: h, ...filled("ink") })];
  if (soon === "next-start")
    return [
      mark("rect", { x: round(x), y: y + h / 2, width: w, height: h / 2, ...filled("soft") }),
      mark("rect", { x: round(x), y, width: w, height: h, ...stroked("soft", 0.6) }),
    ];
  const cx = round(x + w / 2);
  const cy = y + h / 2;
  return [mark("path", { d: `M${cx - 3} ${cy - 3} l6 6 m-6 0 l6 -6`, ...stroked("copper", 1.4) })];
}

const ohmsWords = (ohms: number): string => (ohms >= 1000 ? `${round(ohms / 1000)} kΩ` : `${round(ohms)} Ω`);

function axes({ map }: CoverageGridInput, pitch: number, bottom: number): Mark[] {
  const right = LEFT + pitch * map.faultOhms.length;
  const across = map.faultOhms.flatMap((ohms, i) => {
    const decade = round(10 * Math.log10(ohms)) / 10;
    const fromLast = Math.round(Math.log10(map.faultOhms.at(-1)! / ohms));
    const crowded = pitch * 4 < DECADE_WORDS && fromLast % 2 === 1;
    if (!Number.isInteger(decade) || crowded) return [];
    // The last stands over the end of the grid, so that it is not cut off there.
    const place =
      fromLast === 0
        ? { x: right, anchor: "end" as const }
        : { x: LEFT + i * pitch, anchor: "start" as const };
    return [words(place.x, bottom + 14, ohmsWords(ohms), { anchor: place.anchor, size: 10, ink: "soft" })];
  });
  const rowsEvery = map.positions.length > 14 ? 2 : 1;
  const down = map.positions.flatMap((at, i) => {
    const row = map.positions.length - 1 - i;
    const name = i === 0 ? "0 −" : i === map.positions.length - 1 ? `${at} +` : String(at);
    const shown = i === 0 || i === map.positions.length - 1 || i % rowsEvery === 0;
    return shown
      ? [words(LEFT - 6, TOP + row * CELL_HEIGHT + 11, name, { anchor: "end", size: 10, ink: "soft" })]
      : [];
  });
  return [
    ...across,
    ...down,
    words(0, TOP - 12, "modules from −", { size: 11, ink: "soft" }),
    line(LEFT, bottom + 1, LEFT + pitch * map.faultOhms.length, bottom + 1, stroked("hair", 1)),
    words(LEFT + pitch * map.faultOhms.length, bottom + 28, "resistance of the fault", {
      anchor: "end",
      size: 11,
      ink: "soft",
    }),
  ];
}

function legend(bottom: number): Mark[] {
  return (Object.keys(SOON_WORDS) as Coverage["soon"][]).flatMap((soon, i) => {
    const y = bottom + 38 + 19 * i;
    return [...cell(soon, LEFT, y, 18), words(LEFT + 26, y + 11, SOON_WORDS[soon], { size: 12 })];
  });
}

const share = (value: number): string => `${Math.round(100 * value)} %`;

/** Which faults the detectors see, by place along a string and by resistance, for faults of one time of day. */
export function drawCoverageGrid(input: CoverageGridInput): Drawing {
  const { map, phase, title } = input;
  const width = Math.max(260, Math.round(input.width));
  const pitch = (width - LEFT - 4) / map.faultOhms.length;
  const bottom = TOP + CELL_HEIGHT * map.positions.length;
  const cells = map.cells[phase].flatMap((row, i) =>
    row.flatMap(({ soon }, j) =>
      cell(soon, LEFT + j * pitch, TOP + (map.positions.length - 1 - i) * CELL_HEIGHT, pitch),
    ),
  );
  return {
    width,
    height: bottom + 38 + 19 * 3,
    title,
    marks: [...cells, ...axes(input, pitch, bottom), ...legend(bottom)],
    table: {
      caption: title,
      columns: ["Modules from −", ...Object.values(SOON_WORDS)],
      rows: map.positions.map((at, i) => {
        const row = map.cells[phase][i]!;
        const part = (soon: Coverage["soon"]): string =>
          share(row.filter((one) => one.soon === soon).length / row.length);
        return [String(at), part("at-once"), part("next-start"), part("never")];
      }),
    },
  };
}
