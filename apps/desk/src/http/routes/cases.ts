import type { Alarm, Case } from "@earthbell/model";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { requestOf, sendAnswer, stepAnswer } from "../answer.ts";
import { allowed } from "../caller.ts";
import type { Action } from "../../accounts/access.ts";
import { ofSites } from "../../overview/bound-to.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";

const caseParams = z.strictObject({ id: z.string() });
const text = z.string().trim().min(1).max(4000);
const instant = z.int().min(0);

/** What a person does to a case; who, is said by the token. */
const caseStep = z.discriminatedUnion("step", [
  z.strictObject({ step: z.literal("acknowledge") }),
  z.strictObject({ step: z.literal("sign-cause"), cause: text, repairedAt: instant.nullable() }),
  z.strictObject({
    step: z.literal("measure-insulation"),
    ohms: z.number().min(0),
    required: z.strictObject({
      value: z.number().min(0),
      source: text,
      tag: z.enum([
        "published",
        "secondary",
        "memory",
        "common practice",
        "computed",
        "design choice",
        "user",
      ]),
    }),
  }),
  z.strictObject({ step: z.literal("tell-owner"), document: z.string().max(500).nullable() }),
  z.strictObject({ step: z.literal("remark"), text }),
  z.strictObject({ step: z.literal("close") }),
]);

const record = z.record(z.string(), z.unknown());

/** Cases: one earth fault each, from its first sign to its signed close. */
export function caseRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store, watch } = parts;
  app.get<{ Querystring: { state: "open" | "closed" | "all"; site?: string; limit: number } }>(
    "/api/cases",
    {
      schema: schemasOf({
        summary: "Cases, newest first",
        tag: "cases",
        query: z.strictObject({
          state: z.enum(["open", "closed", "all"]).default("open"),
          site: z.string().optional(),
          limit: z.coerce.number().int().min(1).max(5000).default(500),
        }),
        answer: z.array(record),
      }),
    },
    async (request) => {
      const { state, site, limit } = request.query;
      const caller = await allowed(request, parts, "see-site", site ?? null);
      let query = store.db
        .selectFrom("fault_case")
        .select("case_json")
        .where(ofSites(caller.sites))
        .orderBy("opened_at", "desc")
        .limit(limit);
      if (state !== "all") query = query.where("closed_at", state === "open" ? "is" : "is not", null);
      if (site !== undefined) query = query.where("site", "=", site);
      return (await query.execute()).map(({ case_json }) => JSON.parse(case_json) as Case);
    },
  );
  app.get<{ Params: { id: string } }>(
    "/api/cases/:id",
    {
      schema: schemasOf({
        summary: "A case with its alarms, and who was told when",
        tag: "cases",
        params: caseParams,
        answer: z.object({ case: record, alarms: z.array(record), told: z.array(record) }),
      }),
    },
    async (request) => {
      await allowed(request, parts, "see-site", await siteOf(request.params.id));
      const row = await store.db
        .selectFrom("fault_case")
        .select("case_json")
        .where("id", "=", request.params.id)
        .executeTakeFirst();
      if (row === undefined)
        throw new RequestFault("REQUEST_UNKNOWN", `There is no case ${request.params.id}.`);
      const one = JSON.parse(row.case_json) as Case;
      const alarms = one.alarms.length === 0 ? [] : await alarmsOf(one.alarms);
      const told = await store.db
        .selectFrom("delivery")
        .select(["person", "path_id as path", "kind", "sequence", "at", "channel"])
        .where("matter", "=", one.id)
        .orderBy("at")
        .execute();
      return { case: one, alarms, told };
    },
  );
  app.post<{ Params: { id: string }; Body: z.output<typeof caseStep> }>(
    "/api/cases/:id/steps",
    {
      schema: schemasOf({
        summary: "Take a step on a case: acknowledge, sign, measure, tell the owner, remark, close",
        tag: "cases",
        params: caseParams,
        body: caseStep,
        answer: stepAnswer,
      }),
    },
    async (request, reply) => {
      const { id } = request.params;
      const { name: by } = await allowed(request, parts, ACTION_OF[request.body.step], await siteOf(id));
      const asked = requestOf(request, by);
      if (request.body.step === "acknowledge")
        return sendAnswer(reply, await watch.acknowledge(id, by, asked));
      const { step: type, ...said } = request.body;
      return sendAnswer(reply, await watch.stepCase(id, { type, by, ...said } as never, asked));
    },
  );

  /** The site of a case; null for one that is not known, which only those see who see the whole desk. */
  async function siteOf(id: string): Promise<string | null> {
    const row = await store.db
      .selectFrom("fault_case")
      .select("site")
      .where("id", "=", id)
      .executeTakeFirst();
    return row?.site ?? null;
  }

  async function alarmsOf(ids: readonly string[]): Promise<Alarm[]> {
    const rows = await store.db.selectFrom("alarm").select("alarm_json").where("id", "in", ids).execute();
    return rows.map(({ alarm_json }) => JSON.parse(alarm_json) as Alarm);
  }
}

const ACTION_OF: Readonly<Record<z.output<typeof caseStep>["step"], Action>> = {
  acknowledge: "answer",
  "sign-cause": "close-case",
  "measure-insulation": "work-case",
  "tell-owner": "work-case",
  remark: "work-case",
  close: "close-case",
};
