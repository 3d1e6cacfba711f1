import type { Site } from "@earthbell/engine";
import { type HeldSheet, readCommissioning } from "@earthbell/model";
import { type Extra, LANGUAGES, PAPER_FORMATS, PAPER_KINDS, recipes, type Source } from "@earthbell/papers";
import * as z from "zod";
import { faultRecords, type Reported, reportOf } from "../../papers/fault-records.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { unknownSite } from "../watched-site.ts";

const FILE_CHARACTERS = 4 * 2 ** 20;
const file = z.string().min(1).max(FILE_CHARACTERS);

/** What somebody asks for: a kind of paper, and what it is about. */
export const paperAsked = z.strictObject({
  kind: z.enum(PAPER_KINDS),
  /** For everything but a register and a setting sheet. */
  site: z.string().optional(),
  language: z.enum(LANGUAGES).default("en"),
  /** For a report: the case that it is about, with every visit that was handed over for it. */
  case: z.string().min(1).max(100).optional(),
  /** For a report of a visit that was handed over for no case. */
  visit: z.string().min(1).max(100).optional(),
  /** For a report from a file: the name of the visit, such as its day. */
  name: z.string().trim().min(1).max(100).optional(),
  /** For a report from a file the file of the visit, for a setting sheet its file. */
  text: file.optional(),
  /** For a report: the file of the visit after the repair. */
  after: file.optional(),
  /** For a commissioning record: the file of what was measured. */
  results: file.optional(),
  /** A commissioning record without results, although an earlier issue had some. */
  blank: z.boolean().default(false),
});
export type PaperAsked = z.output<typeof paperAsked>;

export const paperIssued = paperAsked.extend({
  formats: z.array(z.enum(PAPER_FORMATS)).min(1).max(4).default(["pdf"]),
  /** Date of the paper; left out: today, or that of the issue before. */
  date: z.iso.date().optional(),
});

/** What a paper is made from. */
export interface Gathered {
  readonly of: string;
  readonly sources: readonly Source[];
  readonly extra: Extra;
  /** Calendar date at the site. */
  readonly today: string;
}

/** @throws RequestFault REQUEST_BODY_INVALID | REQUEST_UNKNOWN */
export async function gather(asked: PaperAsked, parts: DeskParts): Promise<Gathered> {
  const { kind, language } = asked;
  const recipe = recipes.find((one) => one.kind === kind)!;
  if (!recipe.languages.includes(language))
    throw wrong("language", `A ${kind} is made in ${recipe.languages.join(", ")}.`);
  const now = parts.clock.now();
  const packs = parts.rules.packs();
  switch (recipe.about) {
    case "sites":
      return { of: "fleet", sources: await everySite(parts), extra: { packs }, today: dayAt(now, "UTC") };
    case "sheet": {
      const text = needed(asked.text, "text", "the setting sheet");
      const sources = [{ bytes: text, file: "setting sheet", stem: "sheet" }];
      return { of: "sheet", sources, extra: {}, today: dayAt(now, "UTC") };
    }
    case "site": {
      const row = await siteRow(asked, parts);
      const extra =
        asked.results === undefined ? { packs } : { packs, ...(await measured(asked.results, parts)) };
      const sources = [{ bytes: row.text, file: `${row.id}.yaml`, stem: row.id }];
      return { of: row.id, sources, extra, today: dayAt(now, row.zone) };
    }
    case "visit": {
      const row = await siteRow(asked, parts);
      const reported = reportedOf(asked);
      if (reported !== null) return gatherRecords(row, reported, parts);
      const name = needed(asked.name, "name", "a name for the visit, such as its day");
      const text = needed(asked.text, "text", "the visit");
      const of = reportOf(row.id, name);
      const extra =
        asked.after === undefined ? {} : { after: { bytes: asked.after, file: "visit after", stem: of } };
      const sources = [{ bytes: text, file: "visit", stem: of }];
      return { of, sources, extra, today: dayAt(now, row.zone) };
    }
  }
}

/** The file of what was measured, with the setting sheets that it names as the desk holds them. */
async function measured(text: string, { papers }: DeskParts): Promise<Pick<Extra, "results" | "sheets">> {
  const results = { bytes: text, file: "results", stem: "results" };
  const read = readCommissioning(text, results.file, null);
  const named = read.ok ? read.record.settings.map(({ sheet }) => sheet) : [];
  const held: HeldSheet[] = [];
  for (const name of new Set(named)) {
    const sheet = await papers?.sheet(name);
    if (sheet != null) held.push(sheet);
  }
  return { results, sheets: held };
}

/** What is on record at the desk, that a report is asked of; null where it is asked of files. */
function reportedOf({ case: one, visit, text }: PaperAsked): Reported | null {
  if ([one, visit, text].filter((given) => given !== undefined).length > 1)
    throw wrong("case", "Give one of case, visit and text.");
  if (one !== undefined) return { case: one };
  return visit === undefined ? null : { visit };
}

async function gatherRecords(row: SiteRow, of: Reported, { store, clock }: DeskParts): Promise<Gathered> {
  const records = await faultRecords(store.db, row.site, of);
  if (records === null) {
    const [what, id] = Object.entries(of)[0]!;
    throw new RequestFault("REQUEST_UNKNOWN", `Site ${row.id} has no ${what} ${id}.`);
  }
  return { of: records.name, sources: [], extra: { records }, today: dayAt(clock.now(), row.zone) };
}

/** The site that a paper is about; null for one about none, or about all. */
export function siteOfPaper(kind: PaperAsked["kind"], of: string): string | null {
  if (kind === "fleet-register" || kind === "setting-sheet") return null;
  return kind === "fault-report" ? decodeURIComponent(of.slice(0, of.indexOf("/"))) : of;
}

function needed(text: string | undefined, field: string, what: string): string {
  if (text === undefined) throw wrong(field, `Give ${what}.`);
  return text;
}

export function wrong(field: string, message: string): RequestFault {
  return new RequestFault("REQUEST_BODY_INVALID", message, [{ field: `body.${field}`, message }]);
}

interface SiteRow {
  readonly id: string;
  readonly text: string;
  readonly site: Site;
  readonly zone: string;
}

async function siteRow({ site }: PaperAsked, { store }: DeskParts): Promise<SiteRow> {
  const id = needed(site, "site", "the site");
  const row = await store.db
    .selectFrom("site")
    .select(["id", "text", "site_json"])
    .where("id", "=", id)
    .where("removed_at", "is", null)
    .executeTakeFirst();
  if (row === undefined) throw unknownSite(id);
  const read = JSON.parse(row.site_json) as Site;
  return { id, text: row.text, site: read, zone: read.place.timezone ?? "UTC" };
}

async function everySite({ store }: DeskParts): Promise<readonly Source[]> {
  const rows = await store.db
    .selectFrom("site")
    .select(["id", "text"])
    .where("removed_at", "is", null)
    .orderBy("id")
    .execute();
  if (rows.length === 0) throw new RequestFault("REQUEST_UNKNOWN", "No site is watched here yet.");
  return rows.map(({ id, text }) => ({ bytes: text, file: `${id}.yaml`, stem: id }));
}

export function dayAt(instant: number, zone: string): string {
  return new Intl.DateTimeFormat("en-CA", { timeZone: zone }).format(instant);
}
