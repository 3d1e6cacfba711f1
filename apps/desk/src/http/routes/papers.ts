import type { Site } from "@earthbell/engine";
import { LANGUAGES, paperNumber, recipes, SITE_PAPERS, siteDigests } from "@earthbell/papers";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import type { KnownPaper } from "../../papers/paper-index.ts";
import type { PaperOffice } from "../../papers/paper-office.ts";
import { reportStandings } from "../../papers/report-standings.ts";
import { type SiteStandings, standingOf } from "../../papers/site-standings.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { watchedSite } from "../watched-site.ts";
import { schemasOf } from "../zod-schemas.ts";
import { siteOfPaper } from "./paper-asked.ts";
import { paperFileRoutes } from "./paper-files.ts";
import { paperKeyRoutes } from "./paper-keys.ts";
import { paperStateRoutes } from "./paper-states.ts";

const fileVerdict = z.enum(["valid", "altered", "unknown-key", "unsigned", "missing"]);
const state = z.enum(["lacking", "outdated", "current"]);
const paper = z.object({
  kind: z.string(),
  language: z.string(),
  number: z.string(),
  /** null where it is about a file of a visit, the fleet or a setting sheet: those do not age with what is on record here. */
  state: state.nullable(),
  hasResults: z.boolean(),
  revisions: z.array(
    z.object({
      revision: z.number(),
      date: z.string(),
      by: z.string().nullable(),
      changed: z.number(),
      changes: z.array(
        z.object({ what: z.string(), before: z.string().nullable(), now: z.string().nullable() }),
      ),
      files: z.array(
        z.object({
          name: z.string(),
          sha256: z.string(),
          /** Whether it is still as it was signed; null for files of earlier revisions, which are not looked at. */
          signature: fileVerdict.nullable(),
        }),
      ),
    }),
  ),
});
type PaperLine = z.infer<typeof paper>;
const siteParams = z.strictObject({ site: z.string() });

/** Papers that were issued: what each site has, lacks or has outdated, their files, and whether a file is one of them. */
export function paperRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { papers, rules } = parts;
  if (papers === null) return;
  app.get(
    "/api/papers",
    {
      schema: schemasOf({
        summary: "Every site with how its papers stand, and the papers that are about no single site",
        tag: "papers",
        answer: z.object({
          sites: z.array(
            z.object({ id: z.string(), name: z.string().nullable(), papers: z.record(z.string(), state) }),
          ),
          others: z.array(paper),
        }),
      }),
    },
    async (request) => {
      const { sites } = await allowed(request, parts, "see-site", null);
      const standings: SiteStandings[] = [];
      const known = await papers.index.all();
      for await (const portion of papers.standings.of(sites, known, rules.packs()))
        standings.push(...portion);
      return { sites: standings, others: sites === null ? await otherPapers(papers) : [] };
    },
  );
  app.get(
    "/api/papers/others",
    {
      schema: schemasOf({
        summary: "The papers that are about no single site",
        tag: "papers",
        answer: z.array(paper),
      }),
    },
    async (request) => {
      const { sites } = await allowed(request, parts, "see-site", null);
      return sites === null ? otherPapers(papers) : [];
    },
  );
  paperStateRoutes(app, parts, papers);
  sitePapersRoute(app, parts, papers);
  paperFileRoutes(app, parts, papers);
  paperKeyRoutes(app, parts, papers);
}

async function otherPapers(papers: PaperOffice): Promise<PaperLine[]> {
  const known = [...(await papers.index.all()).values()];
  const others = known.filter(({ kind, of }) => siteOfPaper(kind, of) === null);
  return Promise.all(others.map((one) => lineOf(one, null, papers)));
}

function sitePapersRoute(app: FastifyInstance, parts: DeskParts, papers: PaperOffice): void {
  app.get<{ Params: z.output<typeof siteParams> }>(
    "/api/sites/:site/papers",
    {
      schema: schemasOf({
        summary: "The papers of a site with their revisions",
        tag: "papers",
        params: siteParams,
        answer: z.array(paper),
      }),
    },
    async (request): Promise<PaperLine[]> => {
      const { site } = request.params;
      await allowed(request, parts, "see-site", site);
      const read = JSON.parse(await watchedSite(parts.store, site)) as Site;
      const digests = siteDigests(read, parts.rules.packs(), papers.digest);
      const lines: PaperLine[] = [];
      for (const kind of SITE_PAPERS)
        for (const language of LANGUAGES) {
          if (!recipes.find((one) => one.kind === kind)!.languages.includes(language)) continue;
          const number = paperNumber({ kind, of: site, language });
          const known = await papers.index.refresh(number);
          if (known !== null) lines.push(await lineOf(known, standingOf(known, digests), papers));
          else lines.push(lackingLine(kind, language, number));
        }
      const reports = await reportStandings(parts.store, read, papers);
      for (const { known, state: now, number } of reports)
        lines.push(
          known === null ? lackingLine("fault-report", "en", number) : await lineOf(known, now, papers),
        );
      return lines;
    },
  );
}

function lackingLine(kind: string, language: string, number: string): PaperLine {
  return { kind, language, number, state: "lacking", hasResults: false, revisions: [] };
}

/** The files of the newest revision are checked against their signatures. */
async function lineOf(
  { kind, language, number, hasResults, revisions }: KnownPaper,
  now: PaperLine["state"],
  papers: PaperOffice,
): Promise<PaperLine> {
  const newest = revisions.length - 1;
  const lines = revisions.map(async ({ revision, date, by, changed, changes, files }, at) => ({
    ...{ revision, date, by, changed },
    changes: [...changes],
    files: await Promise.all(
      files.map(async (one) => ({
        ...one,
        signature: at === newest ? (await papers.check(one.name)).verdict : null,
      })),
    ),
  }));
  return { kind, language, number, state: now, hasResults, revisions: await Promise.all(lines) };
}
