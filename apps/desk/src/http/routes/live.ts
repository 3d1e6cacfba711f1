import type { FastifyInstance, FastifyRequest } from "fastify";
import * as z from "zod";
import { sees } from "../../accounts/access.ts";
import { allowed } from "../caller.ts";
import { journalAfter } from "../../store/index.ts";
import type { DeskParts } from "../desk-parts.ts";

/** How often the journal is looked at for those who listen [ms]. */
const LOOK_EVERY_MS = 1000;
const MOST_AT_ONCE = 500;
/** How often it is looked whether somebody may still listen [ms]. */
const CHECK_EVERY_MS = 60_000;

/**
 * How often the stream says that the desk is there, and how far the journal is [ms]: silence is told from a desk that has gone,
 * and who comes back goes on from there, also where nothing has happened yet.
 */
const HERE_EVERY_MS = 15_000;

/** Where an answer says how far the journal was before it was read. */
const JOURNAL_HEADER = "earthbell-journal";

/**
 * Lets every answer say how far the journal was before it was read: who then listens from there hears also what happened between
 * the answer and the first word of the stream.
 */
export function sayJournal(app: FastifyInstance, { store }: DeskParts): void {
  const before = new WeakMap<FastifyRequest, number>();
  app.addHook("onRequest", async (request) => {
    if (request.method === "GET" && request.url.startsWith("/api/"))
      before.set(request, await lastSequence(store));
  });
  app.addHook("onSend", (request, reply, _, done) => {
    const sequence = before.get(request);
    if (sequence !== undefined && reply.statusCode === 200) reply.header(JOURNAL_HEADER, sequence);
    done();
  });
}

const heardFrom = z.strictObject({ after: z.coerce.number().int().nonnegative().optional() });

/** What happens, as it happens: the journal as server-sent events. A listener that comes back says where it was. */
export function liveRoute(app: FastifyInstance, parts: DeskParts): void {
  const { store, clock } = parts;
  const schema = { hide: true, querystring: heardFrom };
  // A page listens for as long as it is open; a desk that is to stop does not wait for that.
  const listening = new Set<AbortController>();
  app.addHook("preClose", (done) => {
    for (const gone of listening) gone.abort();
    done();
  });
  app.get<{ Querystring: z.infer<typeof heardFrom> }>("/api/live", { schema }, async (request, reply) => {
    const caller = await allowed(request, parts, "see-site", null);
    const gone = new AbortController();
    listening.add(gone);
    request.raw.on("close", () => {
      listening.delete(gone);
      gone.abort();
    });
    let after = await beginning(request.headers["last-event-id"], request.query.after, store);
    reply.hijack();
    reply.raw.writeHead(200, {
      "content-type": "text/event-stream",
      "cache-control": "no-store",
      connection: "close",
      "x-accel-buffering": "no",
    });
    const here = (): string => `id: ${String(after)}\nevent: here\ndata: yes\n\n`;
    reply.raw.write(here());
    let checkedAt = clock.now();
    let hereAt = clock.now();
    while (!gone.signal.aborted) {
      if (clock.now() - checkedAt >= CHECK_EVERY_MS) {
        // An account that has ended, or a link that was revoked, hears nothing more.
        const still = await allowed(request, parts, "see-site", null).catch(() => null);
        if (still === null) break;
        checkedAt = clock.now();
      }
      const rows = await journalAfter(store.db, after, MOST_AT_ONCE);
      for (const { hash: _, before_hash: __, ...row } of rows) {
        after = row.sequence;
        if (row.site === null ? caller.sites !== null : !sees(caller, row.site)) continue;
        reply.raw.write(`id: ${String(row.sequence)}\nevent: ${row.kind}\ndata: ${JSON.stringify(row)}\n\n`);
      }
      if (clock.now() - hereAt >= HERE_EVERY_MS) {
        reply.raw.write(here());
        hereAt = clock.now();
      }
      if (rows.length < MOST_AT_ONCE) await clock.pause(LOOK_EVERY_MS, gone.signal);
    }
    reply.raw.end();
  });
}

/**
 * Where a listener goes on: after the last word it heard, else from where it asks to, else from now on. A place that the journal
 * has not reached is of a store that was replaced by an older copy; to wait for it would be to hear nothing for long.
 */
async function beginning(
  lastHeard: string | string[] | undefined,
  asked: number | undefined,
  store: DeskParts["store"],
): Promise<number> {
  const last = await lastSequence(store);
  const place = lastHeard === undefined ? (asked ?? last) : Number(lastHeard);
  return Number.isFinite(place) ? Math.min(place, last) : 0;
}

async function lastSequence(store: DeskParts["store"]): Promise<number> {
  const mark = await store.db
    .selectFrom("mark")
    .select("value")
    .where("name", "=", "journal")
    .executeTakeFirst();
  return mark?.value ?? 0;
}
