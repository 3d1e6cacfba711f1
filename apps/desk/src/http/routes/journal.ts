import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { brokenJournalAt, journalAfter, journalBefore } from "../../store/index.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { schemasOf } from "../zod-schemas.ts";

const row = z.object({
  sequence: z.number(),
  at: z.number(),
  kind: z.string(),
  site: z.string().nullable(),
  subject: z.string().nullable(),
  by: z.string().nullable(),
  text: z.string(),
  hash: z.string(),
});
const asked = z.strictObject({
  /** Rows before this number; absent: the newest. */
  before: z.coerce.number().int().min(1).optional(),
  limit: z.coerce.number().int().min(1).max(1000).default(100),
  by: z.string().min(1).max(200).optional(),
  kind: z.string().min(1).max(40).optional(),
  site: z.string().min(1).max(200).optional(),
  holds: z.string().min(1).max(200).optional(),
});

/** Looking through the whole chain takes a while on a desk of many years. */
const FEW = { rateLimit: { max: 6, timeWindow: "1 minute" } };

/** The journal of everything that was done: to look at, to check, and to hand out. */
export function journalRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store } = parts;
  app.get<{ Querystring: z.output<typeof asked> }>(
    "/api/journal/rows",
    {
      schema: schemasOf({
        summary: "Rows of the journal, newest first, by person, kind, site or words",
        tag: "journal",
        query: asked,
        answer: z.array(row),
      }),
    },
    async (request) => {
      await allowed(request, parts, "keep-desk", null);
      const { before, limit, ...only } = request.query;
      const rows = await journalBefore(store.db, before ?? null, limit, only);
      return rows.map(({ before_hash: _, ...one }) => one);
    },
  );
  app.get(
    "/api/journal/check",
    {
      config: FEW,
      schema: schemasOf({
        summary: "Whether the whole chain of the journal holds",
        tag: "journal",
        answer: z.object({ holds: z.boolean(), brokenAt: z.number().nullable(), rows: z.number() }),
      }),
    },
    async (request) => {
      await allowed(request, parts, "keep-desk", null);
      const brokenAt = await brokenJournalAt(store.db);
      const { rows } = await store.db
        .selectFrom("journal")
        .select(({ fn }) => fn.countAll<number>().as("rows"))
        .executeTakeFirstOrThrow();
      return { holds: brokenAt === null, brokenAt, rows };
    },
  );
  exportRoute(app, parts);
}

const PAGE = 2000;

/** The whole journal, a JSON object a line, hashes included: anybody can check the chain. */
function exportRoute(app: FastifyInstance, parts: DeskParts): void {
  app.get("/api/journal", { schema: { hide: true } }, async (request, reply) => {
    await allowed(request, parts, "keep-desk", null);
    reply.hijack();
    reply.raw.writeHead(200, {
      "content-type": "application/x-ndjson",
      "content-disposition": 'attachment; filename="journal.jsonl"',
      "cache-control": "no-store",
    });
    for (let after = 0; ; ) {
      const rows = await journalAfter(parts.store.db, after, PAGE);
      for (const one of rows) reply.raw.write(`${JSON.stringify(one)}\n`);
      if (rows.length < PAGE) break;
      after = rows.at(-1)!.sequence;
    }
    reply.raw.end();
  });
}
