import { BUILT_IN_PACKS } from "@earthbell/engine";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { schemasOf } from "../zod-schemas.ts";

const ownPack = z.object({
  file: z.string(),
  digest: z.string(),
  /** Title of the built-in pack whose place it takes; null where it is added. */
  replaces: z.string().nullable(),
  pack: z.record(z.string(), z.unknown()),
});

/** Rule packs of this desk's own, which its decisions go by. */
export function rulesRoute(app: FastifyInstance, parts: DeskParts): void {
  app.get(
    "/api/rules",
    {
      schema: schemasOf({
        summary: "Rule packs that are this desk's own: in force beside or instead of built-in ones",
        tag: "desk",
        answer: z.array(ownPack),
      }),
    },
    async (request) => {
      await allowed(request, parts, "see-site", null);
      return parts.setUp.packs.map(({ file, digest, pack }) => ({
        file,
        digest,
        replaces: BUILT_IN_PACKS.find(({ id }) => id === pack.id)?.title ?? null,
        pack,
      }));
    },
  );
}
