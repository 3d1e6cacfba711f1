import { FLEET_TRAITS, readHistory } from "@earthbell/engine";
import { type ArrayLimits, readFleetTable } from "@earthbell/model";
import type { FastifyInstance, FastifyRequest } from "fastify";
import * as z from "zod";
import { historyContext, storedSeries } from "../../drift/stored-series.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";

const record = z.record(z.string(), z.unknown());
const arrayParams = z.strictObject({ site: z.string(), array: z.string() });
const driftQuery = z.strictObject({ by: z.enum(["weight", "days"]).default("weight") });
const drift = z.object({
  ...{ pending: z.number(), fleet: record, moreGroups: z.number() },
  names: z.record(z.string(), z.string()),
});
type Asked = FastifyRequest<{ Querystring: z.output<typeof driftQuery> }>;

/** What the stored insulation says: of one array, and of the fleet. */
export function historyRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store, drift: reader } = parts;
  app.get<{ Params: z.output<typeof arrayParams> }>(
    "/api/sites/:site/arrays/:array/history",
    {
      schema: schemasOf({
        summary: "What the insulation history of an array says",
        tag: "readings",
        params: arrayParams,
        answer: record,
      }),
    },
    async (request) => {
      const { site, array } = request.params;
      await allowed(request, parts, "see-site", site);
      const row = await store.db
        .selectFrom("site")
        .select("limits_json")
        .where("id", "=", site)
        .executeTakeFirst();
      const limits =
        row === undefined ? undefined : (JSON.parse(row.limits_json) as Record<string, ArrayLimits>)[array];
      if (limits === undefined)
        throw new RequestFault("REQUEST_UNKNOWN", `Array ${array} of ${site} is not watched here.`);
      return readHistory(await storedSeries(store, site, array, limits.zone), historyContext(limits));
    },
  );
  const driftOf = async (request: Asked, table: ReadonlyMap<string, Readonly<Record<string, string>>>) => {
    const caller = await allowed(request, parts, "see-site", null);
    return reader.read(caller.sites, request.query.by, table);
  };
  const summary = "Where insulation sinks, which array to go to first, and what those that drift share";
  app.get<{ Querystring: z.output<typeof driftQuery> }>(
    "/api/drift",
    { schema: schemasOf({ summary, tag: "readings", query: driftQuery, answer: drift }) },
    (request) => driftOf(request, new Map()),
  );
  app.addContentTypeParser("text/csv", { parseAs: "string" }, (_, body, done) => {
    done(null, body);
  });
  app.post<{ Querystring: z.output<typeof driftQuery>; Body: string }>(
    "/api/drift",
    {
      schema: schemasOf({
        summary: `${summary}, with a table (CSV) of what arrays are: ${["array", ...FLEET_TRAITS].join(", ")}, consequence`,
        tag: "readings",
        query: driftQuery,
        body: z.string(),
        consumes: "text/csv",
        answer: drift,
      }),
    },
    async (request, reply) => {
      const read = readFleetTable(request.body, "table of arrays", [...FLEET_TRAITS, "consequence"]);
      if (read.ok) return driftOf(request, read.record);
      const { code } = read.faults[0]!;
      return reply
        .status(422)
        .send({ error: { code, message: "The table has faults.", faults: read.faults } });
    },
  );
}
