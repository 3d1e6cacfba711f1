import type { Site } from "@earthbell/engine";
import { calendarFeed } from "@earthbell/papers";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { sees } from "../../accounts/access.ts";
import { accountOfFeed, feedToken } from "../../papers/feed-key.ts";
import { bearer, callerOf } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";
import { dayAt } from "./paper-asked.ts";

const feedQuery = z.strictObject({ feed: z.string().max(500) });

/** What is due at the sites of an account, as a feed that a calendar fetches by itself. */
export function calendarRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { papers, store, clock } = parts;
  if (papers === null) return;
  app.get(
    "/api/calendar",
    {
      schema: schemasOf({
        summary: "The address of the feed of whoever is signed in; it opens the feed and nothing else",
        tag: "papers",
        answer: z.object({ address: z.string() }),
      }),
    },
    async (request) => {
      const { account } = await callerOf(request, parts);
      if (account === null)
        throw new RequestFault("REQUEST_NOT_ALLOWED", "A feed belongs to an account. Sign in in a browser.");
      const feed = feedToken(account.id, await papers.feedKey());
      return { address: `${parts.origin(request)}/api/calendar.ics?feed=${feed}` };
    },
  );
  app.get<{ Querystring: z.output<typeof feedQuery> }>(
    "/api/calendar.ics",
    {
      schema: schemasOf({
        summary: "What is due, as iCalendar",
        tag: "papers",
        query: feedQuery,
        answer: z.string(),
        open: true,
      }),
    },
    async (request, reply) => {
      const id = accountOfFeed(request.query.feed, await papers.feedKey());
      const account =
        id === null
          ? undefined
          : await store.db
              .selectFrom("account")
              .selectAll()
              .where("id", "=", id)
              .where("disabled_at", "is", null)
              .executeTakeFirst();
      if (account === undefined)
        throw new RequestFault("REQUEST_TOKEN_UNKNOWN", "This feed is not in force. Take its address anew.");
      const rows = await store.db
        .selectFrom("site")
        .select(["id", "site_json"])
        .where("removed_at", "is", null)
        .orderBy("id")
        .execute();
      const who = bearer(account);
      const sites = rows
        .filter((row) => sees(who, row.id))
        .map(({ site_json }) => JSON.parse(site_json) as Site);
      return reply
        .type("text/calendar; charset=utf-8")
        .header("cache-control", "private, max-age=900")
        .serializer(String)
        .send(calendarFeed(sites, dayAt(clock.now(), "UTC")));
    },
  );
}
