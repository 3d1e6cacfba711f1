import { fitsFolded, folded, isUnproved, isUnserved, newestProofOn } from "@earthbell/model";
import type { SiteLine } from "./records.ts";

export type SortBy = "need" | "name" | "insulation" | "proved" | "id" | "put";

/** What a person may want to see alone; a site that is not judged yet is in none but the first. */
export const ONLY = {
  all: () => true,
  required: ({ standing }: SiteLine) => standing?.duty === "required",
  undecided: ({ standing }: SiteLine) => standing?.duty === "undecided",
  unserved: isUnserved,
  unproved: isUnproved,
  case: ({ openCases }: SiteLine) => openCases > 0,
} as const satisfies Readonly<Record<string, (site: SiteLine) => boolean>>;

export type Only = keyof typeof ONLY;

/** Sites whose name or id holds every word of what was typed. */
export function filtered(sites: readonly SiteLine[], typed: string): readonly SiteLine[] {
  if (typed.trim() === "") return sites;
  const fits = fitsFolded(typed);
  return sites.filter((site) => fits(keysOf(site).text));
}

/** What a site is found and put in order by. */
interface Keys {
  readonly text: string;
  readonly name: string;
  readonly id: string;
  readonly proved: string;
}

/** Worked out once for a line: comparing twenty thousand names by the rules of a language takes a tenth of a second each time. */
const KEYS = new WeakMap<SiteLine, Keys>();

function keysOf(site: SiteLine): Keys {
  const known = KEYS.get(site);
  if (known !== undefined) return known;
  const { id, name } = site;
  const keys = {
    text: folded(`${id} ${name ?? ""}`),
    name: inOrder(name ?? id),
    id: inOrder(id),
    proved: newestProofOn(site) ?? "",
  };
  KEYS.set(site, keys);
  return keys;
}

/** A text that stands where a person looks for it: without case and accents, numbers by their size. */
function inOrder(text: string): string {
  return folded(text).replace(/\d+/gu, (digits) => digits.padStart(12, "0"));
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** A line with its keys at hand. */
interface Keyed extends Keys {
  readonly site: SiteLine;
}
type Order = (a: Keyed, b: Keyed) => number;

const byName: Order = (a, b) => compare(a.name, b.name);
const ohms = ({ site }: Keyed): number => site.insulation?.ohms ?? Number.MAX_VALUE;
const ORDERS: Readonly<Record<SortBy, Order>> = {
  need: (a, b) =>
    b.site.openCases - a.site.openCases ||
    b.site.silentPaths - a.site.silentPaths ||
    b.site.activeAlarms - a.site.activeAlarms ||
    byName(a, b),
  name: byName,
  insulation: (a, b) => ohms(a) - ohms(b) || byName(a, b),
  proved: (a, b) => compare(a.proved, b.proved) || byName(a, b),
  id: (a, b) => compare(a.id, b.id),
  put: (a, b) => b.site.putAt - a.site.putAt,
};

/** Orders that were asked of one answer of the desk; a person goes back and forth between them. */
const SORTED = new WeakMap<readonly SiteLine[], Map<SortBy, readonly SiteLine[]>>();

export function sorted(sites: readonly SiteLine[], by: SortBy): readonly SiteLine[] {
  const known = SORTED.get(sites) ?? new Map<SortBy, readonly SiteLine[]>();
  SORTED.set(sites, known);
  const before = known.get(by);
  if (before !== undefined) return before;
  const order = sites
    .map((site): Keyed => ({ site, ...keysOf(site) }))
    .sort(ORDERS[by])
    .map(({ site }) => site);
  known.set(by, order);
  return order;
}

const COLUMNS =
  "site,name,arrays,open_cases,active_signs,silent_paths,duty,best_path,proved_on,threshold_ohm,insulation_ohm,insulation_at,judged_on,revision,put_at,put_by";

/** The register as a table after RFC 4180; a cell that a spreadsheet would calculate is marked as text. */
export function csvOf(sites: readonly SiteLine[]): string {
  const rows = sites.map((site) =>
    [
      cell(site.id),
      cell(site.name ?? ""),
      site.arrays,
      site.openCases,
      site.activeAlarms,
      site.silentPaths,
      site.standing?.duty ?? "",
      site.standing === null ? "" : (site.standing.path ?? "none"),
      newestProofOn(site) ?? "",
      site.standing?.thresholdOhms ?? "",
      site.insulation?.ohms ?? "",
      site.insulation === null ? "" : new Date(site.insulation.at).toISOString(),
      site.standing?.onDate ?? "",
      site.revision,
      new Date(site.putAt).toISOString(),
      cell(site.putBy),
    ].join(","),
  );
  return [COLUMNS, ...rows, ""].join("\r\n");
}

function cell(text: string): string {
  const plain = /^[=+\-@\t\r]/u.test(text) ? `'${text}` : text;
  return /[",\r\n]/u.test(plain) ? `"${plain.replaceAll('"', '""')}"` : plain;
}
