import type { SiteLine } from "./records.ts";

export type SortBy = "need" | "name" | "id" | "put";

/** Sites whose name or id holds every word of what was typed. */
export function filtered(sites: readonly SiteLine[], typed: string): readonly SiteLine[] {
  const words = folded(typed).split(/\s+/u).filter(Boolean);
  if (words.length === 0) return sites;
  return sites.filter(({ id, name }) => {
    const text = folded(`${id} ${name ?? ""}`);
    return words.every((word) => text.includes(word));
  });
}

/** Without case and accents, as people type. */
function folded(text: string): string {
  return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
}

const COLLATOR = new Intl.Collator(undefined, { numeric: true });
const byName = (a: SiteLine, b: SiteLine): number => COLLATOR.compare(a.name ?? a.id, b.name ?? b.id);
const ORDERS: Readonly<Record<SortBy, (a: SiteLine, b: SiteLine) => number>> = {
  need: (a, b) =>
    b.openCases - a.openCases ||
    b.silentPaths - a.silentPaths ||
    b.activeAlarms - a.activeAlarms ||
    byName(a, b),
  name: byName,
  id: (a, b) => COLLATOR.compare(a.id, b.id),
  put: (a, b) => b.putAt - a.putAt,
};

export function sorted(sites: readonly SiteLine[], by: SortBy): readonly SiteLine[] {
  return sites.toSorted(ORDERS[by]);
}

const COLUMNS = "site,name,arrays,open_cases,active_signs,silent_paths,revision,put_at,put_by";

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
