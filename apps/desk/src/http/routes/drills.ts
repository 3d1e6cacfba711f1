import type { Drill } from "@earthbell/model";
import type { FastifyInstance } from "fastify";
import { sql } from "kysely";
import * as z from "zod";
import { requestOf, sendAnswer, stepAnswer } from "../answer.ts";
import { ofSites } from "../../overview/bound-to.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import type { DeskStore } from "../../store/index.ts";
import { schemasOf } from "../zod-schemas.ts";

const pathParams = z.strictObject({ site: z.string(), path: z.string() });
type PathParams = z.output<typeof pathParams>;

/** Drills: rehearsals of a path, and when the next one begins. */
export function drillRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store, watch } = parts;
  app.get<{ Querystring: { site?: string; limit: number; ofEachPath?: number } }>(
    "/api/drills",
    {
      schema: schemasOf({
        summary: "Drills, newest first",
        tag: "drills",
        query: z.strictObject({
          site: z.string().optional(),
          limit: z.coerce.number().int().min(1).max(5000).default(200),
          /** No more than so many of each path, its newest. */
          ofEachPath: z.coerce.number().int().min(1).max(1001).optional(),
        }),
        answer: z.array(z.record(z.string(), z.unknown())),
      }),
    },
    async (request) => {
      const { site, limit, ofEachPath } = request.query;
      const caller = await allowed(request, parts, "see-site", site ?? null);
      let query = store.db
        .selectFrom("drill")
        .select("drill_json")
        .where(ofSites(caller.sites))
        .orderBy("started_at", "desc")
        .limit(limit);
      if (site !== undefined) query = query.where("site", "=", site);
      if (ofEachPath !== undefined)
        query = query.where("id", "in", newestOfEachPath(store.db, site, ofEachPath));
      return (await query.execute()).map(({ drill_json }) => JSON.parse(drill_json) as Drill);
    },
  );
  app.get<{ Querystring: { site?: string } }>(
    "/api/drill-plans",
    {
      schema: schemasOf({
        summary: "When the next drill of each path begins by itself, soonest first",
        tag: "drills",
        query: z.strictObject({ site: z.string().optional() }),
        answer: z.array(z.object({ site: z.string(), path: z.string(), at: z.number() })),
      }),
    },
    async (request) => {
      const { site } = request.query;
      const caller = await allowed(request, parts, "see-site", site ?? null);
      let query = store.db
        .selectFrom("drill_plan")
        .selectAll()
        .where(ofSites(caller.sites))
        .orderBy("at")
        .orderBy("site");
      if (site !== undefined) query = query.where("site", "=", site);
      return (await query.execute()).map((plan) => ({ site: plan.site, path: plan.path_id, at: plan.at }));
    },
  );
  app.post<{ Params: PathParams }>(
    "/api/sites/:site/paths/:path/drills",
    {
      schema: schemasOf({
        summary: "Hold a drill of a path now",
        tag: "drills",
        params: pathParams,
        answer: stepAnswer.extend({ drill: z.string() }),
      }),
    },
    async (request, reply) => {
      const { site, path } = request.params;
      const { name: by } = await allowed(request, parts, "drill", site);
      return sendAnswer(reply, await watch.startDrill(site, path, by, requestOf(request, by)));
    },
  );
  seenRoute(app, parts);
  app.put<{ Params: PathParams; Body: { at: number | null } }>(
    "/api/sites/:site/paths/:path/next-drill",
    {
      schema: schemasOf({
        summary: "Plan the next drill of a path, or none",
        tag: "drills",
        params: pathParams,
        body: z.strictObject({ at: z.int().min(0).nullable() }),
        answer: stepAnswer,
      }),
    },
    async (request, reply) => {
      const { site, path } = request.params;
      const { name: by } = await allowed(request, parts, "drill", site);
      return sendAnswer(reply, await watch.planDrill(site, path, request.body.at, by));
    },
  );
}

function seenRoute(app: FastifyInstance, parts: DeskParts): void {
  app.post<{ Params: { drill: string; beacon: string }; Body: { at?: number | undefined } }>(
    "/api/drills/:drill/beacons/:beacon/seen",
    {
      schema: schemasOf({
        summary: "Say that you saw a beacon burn for a drill: now, or at an instant",
        tag: "drills",
        params: z.strictObject({ drill: z.string(), beacon: z.string() }),
        body: z.strictObject({ at: z.int().min(0).optional() }),
        answer: stepAnswer,
      }),
    },
    async (request, reply) => {
      const { drill, beacon } = request.params;
      const row = await parts.store.db
        .selectFrom("drill")
        .select("site")
        .where("id", "=", drill)
        .executeTakeFirst();
      const { name: by } = await allowed(request, parts, "answer", row?.site ?? null);
      const seen = { beacon, by, seenAt: request.body.at ?? null };
      return sendAnswer(reply, await parts.watch.seeBeacon(drill, seen, requestOf(request, by)));
    },
  );
}

/** Ids of the newest drills of each path. */
function newestOfEachPath(db: DeskStore["db"], site: string | undefined, most: number) {
  let drills = db
    .selectFrom("drill")
    .select(["id", "site"])
    .select(
      sql<number>`row_number() over (partition by site, path_id order by started_at desc, id desc)`.as("nth"),
    );
  if (site !== undefined) drills = drills.where("site", "=", site);
  return db.selectFrom(drills.as("numbered")).select("id").where("nth", "<=", most);
}
