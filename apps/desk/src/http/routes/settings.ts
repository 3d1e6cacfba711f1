import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { settingsRows } from "../../settings/settings-rows.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { FEW_TESTS, sendTest } from "../send-test.ts";
import { schemasOf } from "../zod-schemas.ts";
import { settingsChangeRoutes } from "./settings-change.ts";

const kind = z.enum(["email", "webhook", "sms", "mqtt"]);
const settings = z.object({
  file: z.string().nullable(),
  version: z.string(),
  channels: z.array(z.object({ kind, rehearsed: z.boolean(), by: z.string() })),
  beacons: z.array(z.object({ id: z.string(), broker: z.string(), topic: z.string() })),
  /** The file as it is now, by sections that can be changed here; null where the desk runs from none. */
  edited: z
    .object({
      digest: z.string(),
      sections: z.record(z.string(), z.unknown()),
      waiting: z.array(z.string()),
    })
    .nullable(),
  stated: z.array(z.object({ field: z.string(), value: z.string() })),
  limits: z.array(
    z.object({
      name: z.string(),
      value: z.number(),
      unit: z.string(),
      source: z.string(),
      tag: z.string(),
    }),
  ),
});
const test = z.strictObject({
  channel: kind,
  /** An address of the channel; of a beacon its id. */
  to: z
    .string()
    .trim()
    .min(1)
    .max(500)
    .regex(/^[^\p{Cc}]*$/u),
});
const tried = z.object({
  outcome: z.enum(["accepted", "later", "refused"]),
  text: z.string(),
  said: z.array(z.object({ by: z.enum(["desk", "other-side", "note"]), text: z.string() })),
});

/** The settings in force, and a way to try out the channels that they set up. */
export function settingsRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { setUp, version } = parts;
  app.get(
    "/api/settings",
    {
      schema: schemasOf({
        summary: "The settings in force and where each comes from; secrets are named and never shown",
        tag: "desk",
        answer: settings,
      }),
    },
    async (request) => {
      await allowed(request, parts, "keep-desk", null);
      const { file, channels } = setUp;
      const { settings: stated, limits } = inForceOf(parts);
      const edited = parts.settings === null ? null : await parts.settings.view();
      const laid = stated.tray?.instead ?? [];
      return {
        file,
        version,
        channels: channels.map((one) => ({
          kind: one.kind,
          rehearsed: laid.includes(one.kind),
          by: meansOf(parts, one.kind),
        })),
        beacons: (stated.beacons ?? []).map(({ id, broker, topic }) => ({ id, broker, topic })),
        stated: settingsRows(stated),
        limits: Object.entries(limits).map(([name, limit]) => ({ name, ...limit })),
        edited,
      };
    },
  );
  testRoute(app, parts);
  settingsChangeRoutes(app, parts);
}

function testRoute(app: FastifyInstance, parts: DeskParts): void {
  app.post<{ Body: z.output<typeof test> }>(
    "/api/settings/tests",
    {
      config: FEW_TESTS,
      schema: schemasOf({
        summary: "Send a test by a channel and hear the conversation with the other side",
        tag: "desk",
        body: test,
        answer: tried,
      }),
    },
    async (request) => {
      const { name: by } = await allowed(request, parts, "keep-desk", null);
      const { channel: asked, to } = request.body;
      return sendTest(parts, { channel: asked, address: to }, by);
    },
  );
}

function inForceOf({ settings, setUp }: DeskParts): Pick<DeskParts["setUp"], "settings" | "limits"> {
  return settings === null ? setUp : { settings: settings.settings(), limits: settings.limits() };
}

/** By what a channel goes, in a word that holds no secret. */
function meansOf(parts: DeskParts, channel: z.output<typeof kind>): string {
  const { settings: of } = inForceOf(parts);
  if (of.tray?.instead.includes(channel) === true) return `laid into the folder ${of.tray.folder}`;
  switch (channel) {
    case "email":
      return of.email === undefined ? "" : `${of.email.host}, port ${of.email.port}, ${of.email.security}`;
    case "webhook":
      return "signed requests to the addresses in site files";
    case "sms":
      return of.sms === undefined ? "" : new URL(of.sms.url.replace(/\{\w+\}/gu, "")).host;
    case "mqtt":
      return (of.brokers ?? []).map(({ id, url }) => `${id} (${url})`).join(", ");
  }
}
