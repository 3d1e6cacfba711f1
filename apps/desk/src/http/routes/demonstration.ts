import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { callerOf } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { mayDo } from "../../accounts/access.ts";
import { schemasOf } from "../zod-schemas.ts";

const damage = z.object({
  site: z.string(),
  array: z.string(),
  string: z.string(),
  /** Modules from the negative end. */
  at: z.number(),
  ohms: z.number(),
});

/** Where the damage of a demonstration is hidden, for the stand-in meter; a desk of real arrays knows of none. */
export function demonstrationRoute(app: FastifyInstance, parts: DeskParts): void {
  app.get(
    "/api/demonstration",
    {
      schema: schemasOf({
        summary: "Where the damage of the invented arrays is; empty at a desk of real ones",
        tag: "desk",
        answer: z.array(damage),
      }),
    },
    async (request) => {
      const caller = await callerOf(request, parts);
      return parts.demonstrated.filter(({ site }) => mayDo(caller, "see-site", site).ok);
    },
  );
}
