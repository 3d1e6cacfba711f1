import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { sendAnswer, stepAnswer } from "../answer.ts";
import { ofSites } from "../../overview/bound-to.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { schemasOf } from "../zod-schemas.ts";

const message = z.object({
  key: z.string(),
  channel: z.string(),
  person: z.string(),
  site: z.string(),
  matter: z.string(),
  kind: z.string(),
  state: z.enum(["waiting", "claimed", "sent", "refused"]),
  reason: z.string(),
  writtenAt: z.number(),
  dueAt: z.number(),
  attempts: z.number(),
  finishedAt: z.number().nullable(),
  reply: z.string().nullable(),
});

const brokenWay = z.object({
  channel: z.string(),
  address: z.string(),
  sinceAt: z.number(),
  reason: z.string(),
});

/** Messages: what was said to whom, why, and what the other side answered; and the addresses that do not work. */
export function outboxRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store, watch } = parts;
  app.get<{
    Querystring: { state?: "waiting" | "claimed" | "sent" | "refused"; matter?: string; limit: number };
  }>(
    "/api/messages",
    {
      schema: schemasOf({
        summary: "Messages, newest first",
        tag: "messages",
        query: z.strictObject({
          state: z.enum(["waiting", "claimed", "sent", "refused"]).optional(),
          matter: z.string().optional(),
          limit: z.coerce.number().int().min(1).max(5000).default(200),
        }),
        answer: z.array(message),
      }),
    },
    async (request) => {
      const caller = await allowed(request, parts, "see-messages", null);
      const { state, matter, limit } = request.query;
      let query = store.db
        .selectFrom("outbox")
        .select([
          "key",
          "channel",
          "person",
          "site",
          "matter",
          "kind",
          "state",
          "reason",
          "attempts",
          "reply",
        ])
        .select(["written_at as writtenAt", "due_at as dueAt", "finished_at as finishedAt"])
        .where(ofSites(caller.sites))
        .orderBy("written_at", "desc")
        .limit(limit);
      if (state !== undefined) query = query.where("state", "=", state);
      if (matter !== undefined) query = query.where("matter", "=", matter);
      return query.execute();
    },
  );
  app.get(
    "/api/broken-addresses",
    {
      schema: schemasOf({
        summary: "Addresses that reach nobody",
        tag: "messages",
        answer: z.array(brokenWay),
      }),
    },
    async (request) => {
      await allowed(request, parts, "keep-desk", null);
      return store.db
        .selectFrom("broken_way")
        .select(["channel", "address", "since_at as sinceAt", "reason"])
        .execute();
    },
  );
  app.post<{ Body: { channel: "email" | "webhook" | "sms" | "mqtt"; address: string } }>(
    "/api/broken-addresses/mended",
    {
      schema: schemasOf({
        summary: "Say that an address works again",
        tag: "messages",
        body: z.strictObject({
          channel: z.enum(["email", "webhook", "sms", "mqtt"]),
          address: z.string().min(1),
        }),
        answer: stepAnswer,
      }),
    },
    async (request, reply) =>
      sendAnswer(
        reply,
        await watch.mendWay(request.body, (await allowed(request, parts, "keep-desk", null)).name),
      ),
  );
}
