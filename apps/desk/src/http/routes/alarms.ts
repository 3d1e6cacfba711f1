import type { Alarm } from "@earthbell/model";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { requestOf, sendAnswer, stepAnswer } from "../answer.ts";
import { allowed } from "../caller.ts";
import type { Action } from "../../accounts/access.ts";
import { ofSites } from "../../overview/bound-to.ts";
import type { DeskParts } from "../desk-parts.ts";
import { schemasOf } from "../zod-schemas.ts";

const text = z.string().trim().min(1).max(4000);
const until = { reason: text, untilAt: z.int().min(0) };

/** What a person does to one alarm; who, is said by the token. */
const alarmStep = z.discriminatedUnion("step", [
  z.strictObject({ step: z.literal("acknowledge") }),
  z.strictObject({ step: z.literal("sign-cause"), cause: text }),
  z.strictObject({ step: z.literal("shelve"), ...until }),
  z.strictObject({ step: z.literal("unshelve") }),
  z.strictObject({ step: z.literal("suppress"), ...until }),
  z.strictObject({ step: z.literal("unsuppress") }),
  z.strictObject({ step: z.literal("begin-maintenance"), ...until }),
  z.strictObject({ step: z.literal("end-maintenance") }),
]);

export function alarmRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store, watch } = parts;
  app.get<{ Querystring: { site?: string; condition: "active" | "clear" | "all" } }>(
    "/api/alarms",
    {
      schema: schemasOf({
        summary: "Alarms",
        tag: "alarms",
        query: z.strictObject({
          site: z.string().optional(),
          condition: z.enum(["active", "clear", "all"]).default("active"),
        }),
        answer: z.array(z.record(z.string(), z.unknown())),
      }),
    },
    async (request) => {
      const { site, condition } = request.query;
      const caller = await allowed(request, parts, "see-site", site ?? null);
      let query = store.db
        .selectFrom("alarm")
        .select("alarm_json")
        .where(ofSites(caller.sites))
        .orderBy("active_at", "desc")
        .limit(20_000);
      if (condition !== "all") query = query.where("condition", "=", condition);
      if (site !== undefined) query = query.where("site", "=", site);
      return (await query.execute()).map(({ alarm_json }) => JSON.parse(alarm_json) as Alarm);
    },
  );
  app.post<{ Params: { id: string }; Body: z.output<typeof alarmStep> }>(
    "/api/alarms/:id/steps",
    {
      schema: schemasOf({
        summary: "Take a step on an alarm: acknowledge, sign a cause, shelve, take out of service",
        tag: "alarms",
        params: z.strictObject({ id: z.string() }),
        body: alarmStep,
        answer: stepAnswer,
      }),
    },
    async (request, reply) => {
      const { id } = request.params;
      const site = await siteOf(id);
      const { name: by } = await allowed(request, parts, ACTION_OF[request.body.step], site);
      const asked = requestOf(request, by);
      if (request.body.step === "acknowledge")
        return sendAnswer(reply, await watch.acknowledge(id, by, asked));
      const { step: type, ...said } = request.body;
      return sendAnswer(reply, await watch.stepAlarm(id, { type, by, ...said } as never, asked));
    },
  );

  /** The site of an alarm; null for one that is not known, which only those see who see the whole desk. */
  async function siteOf(id: string): Promise<string | null> {
    const row = await store.db.selectFrom("alarm").select("site").where("id", "=", id).executeTakeFirst();
    return row?.site ?? null;
  }
}

const ACTION_OF: Readonly<Record<z.output<typeof alarmStep>["step"], Action>> = {
  acknowledge: "answer",
  "sign-cause": "close-case",
  shelve: "quiet",
  unshelve: "quiet",
  suppress: "quiet",
  unsuppress: "quiet",
  "begin-maintenance": "quiet",
  "end-maintenance": "quiet",
};
