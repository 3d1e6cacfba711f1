import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { caseLines } from "../../overview/case-lines.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { schemasOf } from "../zod-schemas.ts";

const query = z.strictObject({
  state: z.enum(["open", "closed", "all"]).default("open"),
  limit: z.coerce.number().int().min(1).max(1000).default(100),
});
const line = z.object({
  ...{ id: z.string(), site: z.string(), name: z.string().nullable(), array: z.string() },
  openedAt: z.number(),
  state: z.enum(["closed", "present", "ready", "unsigned"]),
});

/** The list of cases. */
export function caseLineRoute(app: FastifyInstance, parts: DeskParts): void {
  app.get<{ Querystring: z.output<typeof query> }>(
    "/api/case-lines",
    {
      schema: schemasOf({
        summary: "Cases in a line each, newest first, and how many there are",
        tag: "cases",
        query,
        answer: z.object({ count: z.number(), cases: z.array(line) }),
      }),
    },
    async (request) => {
      const { sites } = await allowed(request, parts, "see-site", null);
      return caseLines(parts.store.db, sites, request.query);
    },
  );
}
