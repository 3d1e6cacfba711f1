import type { Site } from "@earthbell/engine";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { assessToday } from "../../rules/assess-today.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { watchedSite } from "../watched-site.ts";
import { schemasOf } from "../zod-schemas.ts";

const params = z.strictObject({ site: z.string() });
const test = z.object({
  testVoltage: z.number(),
  minimumOhms: z.number(),
  source: z.string(),
  tag: z.string(),
});
/** By array; null where no rule pack in force says. */
const answer = z.record(z.string(), test.nullable());

/** What the insulation of each array has to reach in a test today, by the rules that the desk goes by. */
export function insulationTestsRoute(app: FastifyInstance, parts: DeskParts): void {
  const assess = assessToday(parts.rules, parts.clock);
  app.get<{ Params: z.output<typeof params> }>(
    "/api/sites/:site/insulation-tests",
    {
      schema: schemasOf({
        summary: "What the insulation of each array has to reach in a test today, and which rule says so",
        tag: "sites",
        params,
        answer,
      }),
    },
    async (request): Promise<z.output<typeof answer>> => {
      const { site } = request.params;
      await allowed(request, parts, "see-site", site);
      const record = JSON.parse(await watchedSite(parts.store, site)) as Site;
      // The ways in which a fault reaches somebody have no part in it, and would take the longest.
      const { arrays } = assess({ ...record, paths: [] });
      return Object.fromEntries(arrays.map(({ array, insulationTest }) => [array, insulationTest]));
    },
  );
}
