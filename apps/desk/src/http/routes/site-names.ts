import { fitsWords } from "@earthbell/model";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { siteNamesOf } from "../../overview/site-names.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { schemasOf } from "../zod-schemas.ts";

const query = z.strictObject({
  /** Words of a name or id. */
  find: z.string().max(200).default(""),
  limit: z.coerce.number().int().min(1).max(100).default(20),
});
const answer = z.array(z.object({ id: z.string(), name: z.string().nullable() }));

/** Sites by what is typed of them, for whoever has to name one of many. */
export function siteNamesRoute(app: FastifyInstance, parts: DeskParts): void {
  app.get<{ Querystring: z.output<typeof query> }>(
    "/api/site-names",
    {
      schema: schemasOf({
        summary: "The first sites whose name or id holds every word that is typed",
        tag: "sites",
        query,
        answer,
      }),
    },
    async (request) => {
      const { sites } = await allowed(request, parts, "see-site", null);
      const { find, limit } = request.query;
      const fits = fitsWords(find);
      const found: z.output<typeof answer> = [];
      for await (const portion of siteNamesOf(parts.store.db).portions(sites))
        for (const { id, name } of portion) {
          if (!fits(`${id} ${name ?? ""}`)) continue;
          found.push({ id, name });
          if (found.length === limit) return found;
        }
      return found;
    },
  );
}
