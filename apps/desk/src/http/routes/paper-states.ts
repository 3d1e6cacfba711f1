import { SITE_PAPERS } from "@earthbell/papers";
import type { FastifyInstance, FastifyRequest } from "fastify";
import * as z from "zod";
import { fitting, isToMake, paperStates } from "../../papers/asked-sites.ts";
import type { PaperOffice } from "../../papers/paper-office.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { schemasOf } from "../zod-schemas.ts";

const state = z.enum(["lacking", "outdated", "current"]);
const asked = z.strictObject({
  find: z.string().max(200).default(""),
  kind: z.enum(["any", ...SITE_PAPERS]).default("any"),
  state: z.enum(["any", ...state.options]).default("any"),
});
const query = asked.extend({ limit: z.coerce.number().int().min(1).max(1000).default(100) });
const makeQuery = asked.extend({ paper: z.enum(SITE_PAPERS) });
const site = z.object({
  ...{ id: z.string(), name: z.string().nullable() },
  papers: z.record(z.enum(SITE_PAPERS), state),
});

/** How the papers of many sites stand: the first of those asked for, and the ids of those that want a paper. */
export function paperStateRoutes(app: FastifyInstance, parts: DeskParts, papers: PaperOffice): void {
  const portions = async (request: FastifyRequest) => {
    const { sites } = await allowed(request, parts, "see-site", null);
    return papers.standings.of(sites, await papers.index.all(), parts.rules.packs());
  };
  app.get<{ Querystring: z.output<typeof query> }>(
    "/api/paper-states",
    {
      schema: schemasOf({
        summary: "How the papers of sites stand: the first of those asked for, and how many there are",
        tag: "papers",
        query,
        answer: z.object({
          ...{ count: z.number(), fits: z.number(), sites: z.array(site) },
          toMake: z.record(z.enum(SITE_PAPERS), z.number()),
        }),
      }),
    },
    async (request) => paperStates(await portions(request), request.query, request.query.limit),
  );
  app.get<{ Querystring: z.output<typeof makeQuery> }>(
    "/api/paper-states/to-make",
    {
      schema: schemasOf({
        summary: "The sites asked for that lack a paper of a kind, or have it outdated",
        tag: "papers",
        query: makeQuery,
        answer: z.array(z.string()),
      }),
    },
    async (request) => {
      const fits = fitting(request.query);
      const ids: string[] = [];
      for await (const portion of await portions(request))
        for (const one of portion) if (fits(one) && isToMake(one, request.query.paper)) ids.push(one.id);
      return ids;
    },
  );
}
