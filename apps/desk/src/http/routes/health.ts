import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { schemasOf } from "../zod-schemas.ts";

const listener = z.object({
  name: z.string(),
  state: z.enum(["hearing", "partly-deaf", "deaf"]),
  known: z.number(),
  unheard: z.number(),
});
const health = z.object({
  state: z.enum(["well", "partly-deaf", "deaf", "unwell"]),
  text: z.string(),
  /** Code of why nothing can be stored. */
  trouble: z.string().nullable(),
  listeners: z.array(listener),
});

/** The state of the desk, for machines that look after it: no names of sites or people are in it. */
export function healthRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store, listeners, metrics } = parts;
  app.get(
    "/healthz",
    { schema: schemasOf({ summary: "State of the desk", tag: "state", answer: health, open: true }) },
    async (_request, reply) => {
      const heard = listeners.map((one) => {
        const { text: _, ...counts } = one.health();
        return counts;
      });
      const stored = await store.db
        .selectFrom("mark")
        .select("value")
        .where("name", "=", "pen")
        .executeTakeFirst()
        .then(
          (row) => row !== undefined,
          () => false,
        );
      const trouble = store.trouble();
      const state = stateOf(stored && trouble === null, heard);
      return reply.status(state === "unwell" ? 503 : 200).send({
        state,
        text: trouble?.text ?? TEXTS[state],
        trouble: trouble?.code ?? null,
        listeners: heard,
      } satisfies z.infer<typeof health>);
    },
  );
  app.get(
    "/api/listeners",
    {
      schema: schemasOf({
        summary: "What the desk listens to, and what it cannot hear",
        tag: "state",
        answer: z.array(listener.extend({ text: z.string() })),
      }),
    },
    async (request) => {
      await allowed(request, parts, "keep-desk", null);
      return listeners.map((one) => one.health());
    },
  );
  app.get("/metrics", { schema: { hide: true } }, async (_request, reply) =>
    reply.type(metrics.contentType).send(await metrics.metrics()),
  );
}

type State = z.infer<typeof health>["state"];

const TEXTS: Readonly<Record<State, string>> = {
  well: "The desk stores, and hears everything that it is to hear.",
  "partly-deaf":
    "The desk stores, and some of what it is to hear is silent; each such path is told of as a fault.",
  deaf: "The desk stores, and hears nothing.",
  unwell: "The desk cannot read its store.",
};

function stateOf(stored: boolean, heard: z.infer<typeof health>["listeners"]): State {
  if (!stored) return "unwell";
  if (heard.length > 0 && heard.every(({ state }) => state === "deaf")) return "deaf";
  return heard.some(({ state }) => state !== "hearing") ? "partly-deaf" : "well";
}
