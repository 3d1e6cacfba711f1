import type { Alarm } from "@earthbell/model";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { requestOf, sendAnswer, stepAnswer } from "../answer.ts";
import { personOf } from "../caller.ts";
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

export function alarmRoutes(app: FastifyInstance, { store, watch }: DeskParts): void {
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
      await personOf(request, store);
      const { site, condition } = request.query;
      let query = store.db
        .selectFrom("alarm")
        .select("alarm_json")
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
      const by = await personOf(request, store);
      const { id } = request.params;
      const asked = requestOf(request, by);
      if (request.body.step === "acknowledge")
        return sendAnswer(reply, await watch.acknowledge(id, by, asked));
      const { step: type, ...said } = request.body;
      return sendAnswer(reply, await watch.stepAlarm(id, { type, by, ...said } as never, asked));
    },
  );
}
