import { paperNumber } from "@earthbell/papers";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import type { PaperOffice } from "../../papers/paper-office.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";

const entered = z.object({
  number: z.string(),
  revision: z.number(),
  date: z.string(),
  /** Who issued it; null: nobody said. */
  by: z.string().nullable(),
  /** The results, or the setting sheet, as they were read from their file. */
  entered: z.record(z.string(), z.unknown()),
});
const ofSite = z.strictObject({ site: z.string().max(200) });
const ofSheet = z.strictObject({ sheet: z.string().max(200) });

/** What people entered for the newest revision of a paper, so that the next one begins from it instead of from nothing. */
export function paperEnteredRoutes(app: FastifyInstance, parts: DeskParts, papers: PaperOffice): void {
  app.get<{ Params: z.output<typeof ofSite> }>(
    "/api/sites/:site/commissioning",
    {
      schema: schemasOf({
        summary: "The results in the newest commissioning record of a site",
        tag: "papers",
        params: ofSite,
        answer: entered,
      }),
    },
    async (request) => {
      const { site } = request.params;
      await allowed(request, parts, "see-site", site);
      const issue = await newest(papers, "commissioning-record", site);
      const { results } = issue.input as { readonly results?: Readonly<Record<string, unknown>> };
      if (results === undefined)
        throw new RequestFault("REQUEST_UNKNOWN", `The newest record of ${site} is to be filled in by hand.`);
      return enteredIn(issue, results);
    },
  );
  app.get<{ Params: z.output<typeof ofSheet> }>(
    "/api/setting-sheets/:sheet",
    {
      schema: schemasOf({
        summary: "The newest revision of a setting sheet of this team",
        tag: "papers",
        params: ofSheet,
        answer: entered,
      }),
    },
    async (request) => {
      await allowed(request, parts, "issue-paper", null);
      const issue = await newest(papers, "setting-sheet", request.params.sheet);
      return enteredIn(issue, issue.input as Readonly<Record<string, unknown>>);
    },
  );
}

type Issue = Awaited<ReturnType<typeof newest>>;

async function newest(papers: PaperOffice, kind: "commissioning-record" | "setting-sheet", of: string) {
  const number = paperNumber({ kind, of, language: "en" });
  const record = await papers.latest(number);
  if (record === null || record === "unreadable")
    throw new RequestFault("REQUEST_UNKNOWN", `There is no readable issue of ${number} here.`);
  return record.issue;
}

function enteredIn(
  { number, revision, date, by }: Issue,
  data: Readonly<Record<string, unknown>>,
): z.infer<typeof entered> {
  return { number, revision, date, by, entered: data };
}
