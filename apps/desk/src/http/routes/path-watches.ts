import type { PathWatch } from "@earthbell/model";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { sees } from "../../accounts/access.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { schemasOf } from "../zod-schemas.ts";

const pathWatch = z.object({
  site: z.string(),
  path: z.string(),
  /** How often the path gives a sign of life [min]; null where nothing asks for one. */
  lifeEveryMin: z.number().nullable(),
  /** The last one, to a hundredth of that interval, or the start of the watch. */
  lastLifeAt: z.number(),
  /** Silence after this instant is a fault of the path; null where it is not supervised. */
  deadlineAt: z.number().nullable(),
  silent: z.boolean(),
});

/** Paths by their signs of life: when the last one came, and by when the next one has to. */
export function pathWatchRoutes(app: FastifyInstance, parts: DeskParts): void {
  app.get<{ Querystring: { site?: string; silent?: "true" | "false" } }>(
    "/api/path-watches",
    {
      schema: schemasOf({
        summary: "Paths by their signs of life, those whose deadline comes first before the others",
        tag: "paths",
        query: z.strictObject({
          site: z.string().optional(),
          silent: z.enum(["true", "false"]).optional(),
        }),
        answer: z.array(pathWatch),
      }),
    },
    async (request): Promise<z.infer<typeof pathWatch>[]> => {
      const { site, silent } = request.query;
      const caller = await allowed(request, parts, "see-site", site ?? null);
      let query = parts.store.db.selectFrom("path_watch").select("watch_json");
      if (site !== undefined) query = query.where("site", "=", site);
      if (silent !== undefined) query = query.where("silent", "=", silent === "true" ? 1 : 0);
      return (await query.execute())
        .map(({ watch_json }) => JSON.parse(watch_json) as PathWatch)
        .filter((watch) => sees(caller, watch.site))
        .toSorted(byDeadline);
    },
  );
}

/** Databases differ about where null goes. */
function byDeadline(one: PathWatch, other: PathWatch): number {
  if (one.deadlineAt !== other.deadlineAt)
    return (one.deadlineAt ?? Infinity) - (other.deadlineAt ?? Infinity);
  return one.site === other.site ? (one.path < other.path ? -1 : 1) : one.site < other.site ? -1 : 1;
}
