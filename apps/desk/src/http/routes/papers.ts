import type { Site } from "@earthbell/engine";
import { LANGUAGES, paperNumber, recipes, SITE_PAPERS, siteDigests } from "@earthbell/papers";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { sees } from "../../accounts/access.ts";
import type { KnownPaper } from "../../papers/paper-index.ts";
import type { PaperOffice } from "../../papers/paper-office.ts";
import { reportStandings } from "../../papers/report-standings.ts";
import { standingOf } from "../../papers/site-standings.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";
import { siteOfPaper } from "./paper-asked.ts";

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
      files: z.array(z.object({ name: z.string(), sha256: z.string() })),
    }),
  ),
});
type PaperLine = z.infer<typeof paper>;
const siteParams = z.strictObject({ site: z.string() });
const fileParams = z.strictObject({ name: z.string().max(250) });
const MOST_BYTES = 256 * 2 ** 20;

const TYPES: Readonly<Record<string, string>> = {
  pdf: "application/pdf",
  html: "text/html; charset=utf-8",
  csv: "text/csv; charset=utf-8",
  xlsx: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
};

/** Papers that were issued: what each site has, lacks or has outdated, their files, and whether a file is one of them. */
export function paperRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { papers } = parts;
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
      const caller = await allowed(request, parts, "see-site", null);
      const known = await papers.index.all();
      const others = [...known.values()].filter(({ kind, of }) => siteOfPaper(kind, of) === null);
      return {
        sites: await papers.standings.of((site) => sees(caller, site), known),
        others: caller.sites === null ? others.map((one) => lineOf(one, null)) : [],
      };
    },
  );
  sitePapersRoute(app, parts, papers);
  fileRoutes(app, parts, papers);
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
      const row = await parts.store.db
        .selectFrom("site")
        .select("site_json")
        .where("id", "=", site)
        .where("removed_at", "is", null)
        .executeTakeFirst();
      if (row === undefined) throw new RequestFault("REQUEST_UNKNOWN", `No site ${site} is watched here.`);
      const read = JSON.parse(row.site_json) as Site;
      const digests = siteDigests(read, papers.digest);
      const lines: PaperLine[] = [];
      for (const kind of SITE_PAPERS)
        for (const language of LANGUAGES) {
          if (!recipes.find((one) => one.kind === kind)!.languages.includes(language)) continue;
          const number = paperNumber({ kind, of: site, language });
          const known = await papers.index.refresh(number);
          if (known !== null) lines.push(lineOf(known, standingOf(known, digests)));
          else lines.push(lackingLine(kind, language, number));
        }
      const reports = await reportStandings(parts.store, read, papers);
      return [
        ...lines,
        ...reports.map(({ known, state: now, number }) =>
          known === null ? lackingLine("fault-report", "en", number) : lineOf(known, now),
        ),
      ];
    },
  );
}

function lackingLine(kind: string, language: string, number: string): PaperLine {
  return { kind, language, number, state: "lacking", hasResults: false, revisions: [] };
}

function lineOf(
  { kind, language, number, hasResults, revisions }: KnownPaper,
  now: PaperLine["state"],
): PaperLine {
  return {
    kind,
    language,
    number,
    state: now,
    hasResults,
    revisions: revisions.map(({ revision, date, by, changed, changes, files }) => ({
      ...{ revision, date, by, changed },
      changes: [...changes],
      files: [...files],
    })),
  };
}

function fileRoutes(app: FastifyInstance, parts: DeskParts, papers: PaperOffice): void {
  app.get<{ Params: z.output<typeof fileParams> }>(
    "/api/papers/files/:name",
    {
      schema: schemasOf({
        summary: "A file that was issued",
        tag: "papers",
        params: fileParams,
        answer: z.string(),
      }),
    },
    async (request, reply) => {
      const { name } = request.params;
      const known = await papers.index.ofFile(name);
      const site = known === null ? null : siteOfPaper(known.kind, known.of);
      await allowed(request, parts, site === null ? "issue-paper" : "see-site", site);
      const bytes = known === null ? null : await papers.read(name);
      if (bytes === null) throw new RequestFault("REQUEST_UNKNOWN", `No file ${name} was issued here.`);
      return reply
        .type(TYPES[name.slice(name.lastIndexOf(".") + 1)] ?? "application/octet-stream")
        .header("content-disposition", `attachment; filename*=UTF-8''${encodeURIComponent(name)}`)
        .serializer((body: unknown) => body as string)
        .send(Buffer.from(bytes));
    },
  );
  app.addContentTypeParser("application/octet-stream", { parseAs: "buffer" }, (_, body, done) => {
    done(null, body);
  });
  app.post<{ Body: Buffer }>(
    "/api/papers/verify",
    {
      bodyLimit: MOST_BYTES,
      schema: schemasOf({
        summary: "Whether a file is one that was issued here, by its bytes, and whether it is the newest",
        tag: "papers",
        consumes: "application/octet-stream",
        answer: z.object({
          issued: z
            .object({
              name: z.string(),
              number: z.string(),
              revision: z.number(),
              date: z.string(),
              by: z.string().nullable(),
              newest: z.number(),
            })
            .nullable(),
        }),
      }),
    },
    async (request) => {
      const caller = await allowed(request, parts, "see-site", null);
      const found = await papers.index.ofDigest(papers.digestOfBytes(request.body));
      if (found === null) return { issued: null };
      const { paper: known, name } = found;
      const site = siteOfPaper(known.kind, known.of);
      if (site === null ? caller.sites !== null : !sees(caller, site)) return { issued: null };
      const revision = known.revisions.find(({ files }) => files.some((file) => file.name === name))!;
      const { date, by } = revision;
      const newest = known.revisions.at(-1)!.revision;
      return {
        issued: { name, number: known.number, revision: revision.revision, date, by, newest },
      };
    },
  );
}
