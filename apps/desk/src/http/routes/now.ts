import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { NOW_KINDS, nowReader } from "../../overview/now.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { schemasOf } from "../zod-schemas.ts";

const record = z.record(z.string(), z.unknown());
const group = z.object({ first: z.array(z.string()), count: z.number() });
const now = z.object({
  cases: z.array(record),
  alarms: z.array(record),
  drills: z.array(record),
  visits: z.array(record),
  more: z.record(z.enum(NOW_KINDS), z.number()),
  unserved: group,
  unproved: group,
  names: z.record(z.string(), z.string()),
  watched: z.number(),
  quiet: z.number(),
  unjudged: z.number(),
  setAside: z.array(z.object({ pack: z.string(), field: z.string(), text: z.string() })),
  historiesRead: z.boolean(),
  lastPassed: z.object({ site: z.string(), path: z.string(), startedAt: z.number() }).nullable(),
});

/** What needs a person now, short however many sites there are. */
export function nowRoute(app: FastifyInstance, parts: DeskParts): void {
  const { store, clock, standing, drift, rules } = parts;
  const read = nowReader({ db: store.db, clock, standing, drift, rules });
  app.get(
    "/api/now",
    {
      schema: schemasOf({
        summary: "What needs a person now: the foremost of each kind, and how many more there are",
        tag: "state",
        answer: now,
      }),
    },
    async (request) => read((await allowed(request, parts, "see-site", null)).sites),
  );
}
