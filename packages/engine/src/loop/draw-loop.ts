import { figure } from "../path/judgement.ts";
import type { LoopChange, LoopDesign } from "./loop-design.ts";
import {
  battery,
  cable,
  coil,
  contact,
  diode,
  escaped,
  fuse,
  label,
  lamp,
  line,
  noteMark,
  resistor,
  sounder,
} from "./symbols.ts";

const WIDTH = 860;
const TOP = 70;
const BOTTOM = 210;
const RUNG = 300;
const BATTERY_X = 50;
const FUSE_X = 150;
const CONTACT_X = 270;
const CABLE_FROM_X = 360;
const CABLE_TO_X = 560;
const END_X = 640;
const LOAD_X = 740;
const NOTE_COLUMNS = 118;

/** Ink follows the page's colour; copper is the one accent, for what was changed. */
const STYLE =
  "line,path,rect,circle,ellipse{fill:none;stroke:currentColor;stroke-width:1.2}" +
  "text{fill:currentColor;font-family:system-ui,sans-serif;font-size:13px}" +
  ".value{opacity:.72}.sheath{stroke-dasharray:3 3}.joint{fill:currentColor}" +
  ".mark{stroke:#9a4a1f}.mark-number{fill:#9a4a1f;font-size:11px}.rule{opacity:.25}";

/** Where the number of a note stands beside the part it is about. */
const MARK_AT: Readonly<Record<LoopChange["part"], readonly [number, number]>> = {
  battery: [BATTERY_X - 32, 140],
  fuse: [FUSE_X - 34, TOP - 18],
  relay: [CONTACT_X - 40, TOP - 14],
  cable: [460, TOP - 22],
  "end-of-line": [END_X - 26, 118],
  diode: [LOAD_X + 66, 118],
};

function conductors(design: LoopDesign): string {
  const gap = [CONTACT_X - 16, CONTACT_X + 14] as const;
  const fused = design.loop.fuse === undefined ? "" : fuse(FUSE_X, TOP);
  return (
    line(BATTERY_X, TOP, gap[0], TOP) +
    line(gap[1], TOP, LOAD_X, TOP) +
    line(BATTERY_X, BOTTOM, LOAD_X, BOTTOM) +
    fused
  );
}

function supply({ loop }: LoopDesign): string {
  const lines = [
    loop.supply === undefined ? "supply" : `${figure(loop.supply)} V`,
    ...(loop.battery === undefined ? ["no battery"] : [`${figure(loop.battery, 1)} Ah`]),
    ...(loop.supplyMinimum === undefined ? [] : [`ends at ${figure(loop.supplyMinimum, 2)} V`]),
  ];
  const fused = loop.fuse === undefined ? "" : label(FUSE_X, TOP + 26, [`fuse ${figure(loop.fuse, 3)} A`]);
  return battery(BATTERY_X, TOP, BOTTOM) + label(BATTERY_X + 30, 160, lines, "start") + fused;
}

/** The inverter's contact in the line, or the relay's with the inverter's on a rung of its own below. */
function switching(design: LoopDesign): string {
  const { relay, loop } = design;
  const breaks = loop.sense === "de-energise-to-alarm";
  const rated = `${figure(design.contact.current, 3)} A, ${figure(design.contact.voltage)} V d.c.`;
  if (relay === null) {
    return contact(CONTACT_X, TOP, breaks) + label(CONTACT_X, TOP + 26, ["inverter's contact", rated]);
  }
  const x = CONTACT_X;
  return (
    contact(x, TOP, false) +
    label(x, TOP + 26, ["relay K", `≥ ${figure(relay.contactA)} A at ${figure(relay.contactV)} V d.c.`]) +
    line(BATTERY_X + 60, RUNG, x - 66, RUNG) +
    contact(x - 50, RUNG, breaks) +
    line(x - 36, RUNG, x + 60, RUNG) +
    coil(x + 40, RUNG, RUNG + 70) +
    diode(x + 90, RUNG, RUNG + 70) +
    line(x + 60, RUNG, x + 90, RUNG) +
    line(BATTERY_X + 60, RUNG + 70, x + 90, RUNG + 70) +
    label(x - 50, RUNG + 22, ["inverter's contact", rated]) +
    label(
      x + 110,
      RUNG + 30,
      ["coil of K with diode", `${figure(relay.coilV)} V, ${figure(relay.coilA * 1000)} mA`],
      "start",
    ) +
    label(BATTERY_X + 54, RUNG + 5, ["+"], "end") +
    label(BATTERY_X + 54, RUNG + 75, ["−"], "end")
  );
}

function run({ loop, figures }: LoopDesign): string {
  if (loop.cable === undefined) return "";
  const { area, length, class: conductorClass, tinned, temperature } = loop.cable;
  const kind = `class ${conductorClass ?? 5}${tinned === true ? ", tinned" : ""}`;
  const lines = [
    `${figure(length)} m, 2 × ${figure(area, 2)} mm²`,
    `${kind}${temperature === undefined ? "" : `, ${figure(temperature)} °C`}`,
    ...(figures === null ? [] : [`loop ${figure(figures.loopOhms, 2)} Ω with contact`]),
  ];
  return cable(CABLE_FROM_X, TOP, BOTTOM) + cable(CABLE_TO_X, TOP, BOTTOM) + label(460, 130, lines);
}

function farEnd({ loop, endOfLine, figures }: LoopDesign): string {
  const end =
    endOfLine === null
      ? ""
      : resistor(END_X, TOP, BOTTOM) +
        label(END_X, BOTTOM + 20, [`${figure(endOfLine.ohms)} Ω, ${endOfLine.watts} W`, "end of line"]);
  if (loop.load === undefined) return end;
  const { kind, current, flybackDiode } = loop.load;
  const symbol = { sounder, beacon: lamp, lamp, relay: coil }[kind];
  const suppressor =
    flybackDiode === true
      ? diode(LOAD_X + 40, TOP + 20, BOTTOM - 20) +
        line(LOAD_X, TOP + 20, LOAD_X + 40, TOP + 20) +
        line(LOAD_X, BOTTOM - 20, LOAD_X + 40, BOTTOM - 20)
      : "";
  const words = [
    kind,
    `${figure(current, 3)} A`,
    ...(figures === null ? [] : [`gets ${figure(figures.loadVoltage, 2)} V`]),
  ];
  return end + symbol(LOAD_X, TOP, BOTTOM) + suppressor + label(LOAD_X, BOTTOM + 20, words);
}

interface Note {
  readonly mark: readonly [number, number] | null;
  readonly text: string;
}

function notesOf({ changes, unsolved }: LoopDesign): readonly Note[] {
  return [
    ...changes.map(({ part, from, to, why }) => ({
      mark: MARK_AT[part],
      text: `${part}: ${from} → ${to}. ${why}`,
    })),
    ...unsolved.map((text) => ({ mark: null, text: `Left open: ${text}` })),
  ];
}

/** Words folded at spaces to at most a number of characters a line. */
function folded(text: string): readonly string[] {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + word.length < NOTE_COLUMNS)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

function drawNotes(notes: readonly Note[], from: number): { readonly svg: string; readonly bottom: number } {
  let y = from;
  let svg = "";
  notes.forEach(({ mark, text }, i) => {
    if (mark !== null) svg += noteMark(mark[0], mark[1], i + 1);
    svg += noteMark(30, y - 4, i + 1);
    for (const words of folded(text)) {
      svg += label(48, y, [words], "start");
      y += 18;
    }
    y += 4;
  });
  return { svg, bottom: y };
}

/**
 * The annunciator circuit as a schematic, each change ringed and numbered to a note below.
 *
 * @returns a whole SVG document; ink follows the colour of the page it stands in, ink on paper by itself
 */
export function drawLoop(design: LoopDesign): string {
  const notesFrom = (design.relay === null ? BOTTOM + 60 : RUNG + 100) + 20;
  const { svg, bottom } = drawNotes(notesOf(design), notesFrom);
  const state = design.approved
    ? "approved as given"
    : `${design.changes.length} changed, ${design.unsolved.length} left open`;
  const rule = `<line x1="20" y1="${notesFrom - 26}" x2="${WIDTH - 20}" y2="${notesFrom - 26}" class="rule"/>`;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${bottom}" color="#1d2321" role="img">` +
    `<title>${escaped(`Annunciator loop, ${state}`)}</title><style>${STYLE}</style>` +
    label(20, 28, [`Annunciator loop: ${state}`], "start") +
    conductors(design) +
    supply(design) +
    switching(design) +
    run(design) +
    farEnd(design) +
    rule +
    svg +
    "</svg>"
  );
}
