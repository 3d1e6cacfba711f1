import { setAsideWords } from "@earthbell/engine";
import type { FastifyInstance } from "fastify";
import { randomUUID } from "node:crypto";
import * as z from "zod";
import { assessAnew } from "../../rules/assess-anew.ts";
import { builtInTitle, isAt, type RuleBook } from "../../rules/rule-book.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";

const ownPack = z.object({
  file: z.string(),
  digest: z.string(),
  /** Title of the built-in pack whose place it takes; null where it is added. */
  replaces: z.string().nullable(),
  pack: z.record(z.string(), z.unknown()),
});

const override = z.object({
  id: z.string(),
  pack: z.string(),
  field: z.string(),
  value: z.number(),
  replaced: z.number(),
  because: z.string(),
  source: z.string(),
  by: z.string(),
  putAt: z.number(),
  /** null: in force. */
  ended: z.object({ at: z.number(), by: z.string(), because: z.string() }).nullable(),
  /** Why the pack's own value holds although nobody took the override back; gone: the pack has no such value any more. */
  setAside: z.object({ text: z.string(), gone: z.boolean() }).nullable(),
});

const LONGEST_WORDS = 500;
const words = z.string().trim().max(LONGEST_WORDS);
const wanted = z.strictObject({
  pack: z.string().min(1).max(200),
  /** Place of the value in the pack, such as insulationThreshold.rows[0].ohms. */
  field: z.string().min(1).max(200),
  /** In the unit of the field. */
  value: z.number(),
  because: words,
  source: words,
  /** Read that the value asks for less, or might. */
  confirmed: z.boolean().default(false),
  /** Id of the override in force that this one revises. */
  instead: z.string().max(100).nullable().default(null),
});
const end = z.strictObject({ because: words.min(3) });
const ofOverride = z.strictObject({ id: z.string().max(100) });
const done = z.object({ text: z.string() });

/** Rule packs of this desk's own, and values of packs that its people replaced: its decisions go by both. */
export function rulesRoute(app: FastifyInstance, parts: DeskParts): void {
  const { rules, clock } = parts;
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
      return rules.own.map((one) => ({ ...one, replaces: builtInTitle(one.pack.id) }));
    },
  );
  app.get(
    "/api/rules/overrides",
    {
      schema: schemasOf({
        summary: "Values of rule packs that were replaced, newest first, with those that have ended",
        tag: "desk",
        answer: z.array(override),
      }),
    },
    async (request) => {
      await allowed(request, parts, "see-site", null);
      return rules.overrides().map(({ put_at, ended_at, ended_by, ended_because, ...one }) => ({
        ...one,
        putAt: put_at,
        ended: ended_at === null ? null : { at: ended_at, by: ended_by ?? "", because: ended_because ?? "" },
        setAside: ended_at === null ? asideOf(rules, one) : null,
      }));
    },
  );
  app.post<{ Body: z.output<typeof wanted> }>(
    "/api/rules/overrides",
    {
      schema: schemasOf({
        summary: "Put a value in the place of a rule pack's own, for the whole desk",
        tag: "desk",
        body: wanted,
        answer: done,
      }),
    },
    async (request, reply) => {
      const { name: by } = await allowed(request, parts, "override-rules", null);
      const { instead, ...asked } = request.body;
      const put = await rules.put(asked, instead, { by, at: clock.now(), id: randomUUID() });
      if (put.ok) {
        parts.judgeAnew();
        await assessAnew(parts, by);
        return reply.send({ text: put.text });
      }
      if (put.faults === null)
        throw new RequestFault(
          "RULES_OVERRIDE_CHANGED",
          "Somebody else overrode this value meanwhile. Look at that first.",
        );
      const [first] = put.faults;
      const error = { code: first?.code, message: "The override was not taken.", faults: put.faults };
      return reply.status(422).send({ error });
    },
  );
  fileRoute(app, parts);
  endRoute(app, parts);
}

function asideOf(rules: RuleBook, at: { readonly pack: string; readonly field: string }) {
  const found = rules.setAside().find(({ override: one }) => isAt(one, at));
  return found === undefined ? null : { text: setAsideWords(found), gone: found.holds === null };
}

function fileRoute(app: FastifyInstance, parts: DeskParts): void {
  app.get(
    "/api/rules/overrides/file",
    {
      schema: schemasOf({
        summary:
          "The overrides in force, and those that are set aside, as a file (earthbell.rule-overrides/1) for the command line",
        tag: "desk",
        answer: z.string(),
      }),
    },
    async (request, reply) => {
      await allowed(request, parts, "see-site", null);
      return reply
        .type("text/yaml; charset=utf-8")
        .header("content-disposition", 'attachment; filename="rule-overrides.yaml"')
        .serializer(String)
        .send(parts.rules.file(parts.name));
    },
  );
}

function endRoute(app: FastifyInstance, parts: DeskParts): void {
  app.post<{ Params: z.output<typeof ofOverride>; Body: z.output<typeof end> }>(
    "/api/rules/overrides/:id/end",
    {
      schema: schemasOf({
        summary: "Take an override back: the pack's own value is in force again",
        tag: "desk",
        params: ofOverride,
        body: end,
        answer: done,
      }),
    },
    async (request) => {
      const { name: by } = await allowed(request, parts, "override-rules", null);
      const { because } = request.body;
      const ended = await parts.rules.takeBack(request.params.id, because, { by, at: parts.clock.now() });
      if (!ended) throw new RequestFault("REQUEST_UNKNOWN", "There is no override of this id in force.");
      parts.judgeAnew();
      await assessAnew(parts, by);
      return { text: "The override is taken back; the pack's own value is in force." };
    },
  );
}
