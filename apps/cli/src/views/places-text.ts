import type { Finding, Step, Visit } from "@earthbell/engine";
import type { Page } from "../terminal/page.ts";
import { indented, narrower, paragraph } from "../terminal/section.ts";
import { drawStrip, leastShown, percent, type StripDrawing } from "../terminal/strip.ts";
import { table } from "../terminal/table.ts";

const mostRows = 8;
const mostStrips = 4;

/** Where the damage may be: strips of the strings concerned, then the likeliest places in figures. */
export function placesText({ finding, visit }: { finding: Finding; visit: Visit }, page: Page): string[] {
  if (finding.places.length === 0) return [];
  return [...stripsText({ finding, visit }, page), ...placeTable(finding, page)];
}

function stripsText({ finding, visit }: { finding: Finding; visit: Visit }, page: Page): string[] {
  const next = finding.next[0];
  const drawn = visit.strings
    .map(({ id, modules }) => ({
      id,
      ...drawing({ id, modules }, finding, visit),
      weight: weightOf(id, finding),
    }))
    .filter(({ id, weight }) => weight >= leastShown || next?.string === id)
    .sort((a, b) => b.weight - a.weight);
  if (drawn.length === 0) return [];
  const shown = drawn.slice(0, mostStrips);
  const left = drawn.slice(mostStrips);
  const rest = left.reduce((sum, { weight }) => sum + weight, 0);
  return [
    ...shown.flatMap((strip) => [
      "",
      `  ${page.style.strong(strip.id)}  ${percent(strip.weight)}`,
      ...indented(drawStrip(strip, { ...narrower(page) })),
    ]),
    ...(left.length > 0 ? ["", `  ${left.map(({ id }) => id).join(", ")}: ${percent(rest)} together`] : []),
    "",
    ...paragraph(legend(page), page).map(page.style.secondary),
  ];
}

function legend(page: Page): string {
  return page.ascii
    ? "o junction, [] module, | read here, : next; the denser the likelier"
    : "• junction, ┤├ module, │ read here, ┊ next; the denser the likelier";
}

function weightOf(string: string, { places }: Finding): number {
  return places
    .filter((place) => place.string === string)
    .reduce((sum, { probability }) => sum + probability, 0);
}

function drawing(
  { id, modules }: { readonly id: string; readonly modules: number },
  finding: Finding,
  visit: Visit,
): StripDrawing {
  const step = finding.next[0];
  const next = step === undefined ? undefined : touchedBy(step, id);
  return {
    modules,
    places: finding.places.filter((place) => place.string === id),
    measured: measuredJunctions(id, modules, visit),
    ...(next === undefined ? {} : { next }),
  };
}

function touchedBy(step: Step, string: string): number | undefined {
  return step.string === string ? step.at : undefined;
}

/** Junctions of a string at which a lead has been: its ends, and the ends of any segment read. */
function measuredJunctions(string: string, modules: number, visit: Visit): number[] {
  const circuits = visit.circuits.filter((circuit) => circuit.strings.includes(string)).map(({ id }) => id);
  return visit.readings
    .filter((reading) => reading.on === string || circuits.includes(reading.on))
    .flatMap(({ from, to, segment = [0, modules] as const }) => {
      const ends: number[] = [];
      if (from !== "+" || to === "-") ends.push(segment[0]);
      if (from !== "-" || to === "+") ends.push(segment[1]);
      return ends;
    });
}

function placeTable({ places, credible }: Finding, page: Page): string[] {
  const inSet = new Set(credible.places.map(({ string, at }) => `${string} ${at}`));
  const shown = places.slice(0, mostRows);
  const rest = places.slice(mostRows);
  const columns = [
    { title: "Place", align: "left", flexible: true },
    { title: "at", align: "decimal" },
    { title: "probability", align: "decimal" },
    { title: `in the ${percent(credible.level)} set`, align: "left" },
  ] as const;
  const rows = shown.map(({ string, at, label, probability }) => [
    label,
    position(at),
    percent(probability),
    inSet.has(`${string} ${at}`) ? "yes" : "",
  ]);
  const sum = rest.reduce((total, { probability }) => total + probability, 0);
  const more = rest.length > 0 ? [`${rest.length} more places, ${percent(sum)} together`] : [];
  return ["", ...indented([...table(columns, rows, narrower(page)), ...more])];
}

function position(at: number): string {
  return Number.isInteger(at) ? String(at) : at.toFixed(2);
}
