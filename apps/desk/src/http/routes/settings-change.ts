import { EDITABLE_SECTIONS, type SectionWanted } from "@earthbell/model";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import type { SettingsEditor } from "../../settings/settings-editor.ts";
import { appendJournal } from "../../store/index.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";

const section = z.strictObject({ section: z.enum(EDITABLE_SECTIONS) });
const LONGEST_SECTION = 2 ** 20;
const change = z
  .strictObject({
    /** Digest of the file that the change was made from. */
    from: z.string().regex(/^[0-9a-f]{64}$/u),
    /** The whole section, its fields as the file writes them: times with their unit, secrets as the place to read them from. */
    fields: z.record(z.string().regex(/^\w{1,100}$/u), z.unknown()).optional(),
    /** The whole section as YAML, without its name. */
    text: z.string().max(LONGEST_SECTION).optional(),
  })
  .refine(({ fields, text }) => fields === undefined || text === undefined, {
    message: "fields or text, not both; neither takes the section out",
    path: ["text"],
  });
const changed = z.object({ text: z.string(), inForce: z.enum(["now", "later"]) });
const secret = z.strictObject({
  of: z.enum(["email", "webhook", "sms", "broker"]),
  secret: z
    .string()
    .min(1)
    .max(10_000)
    .regex(/^[^\r\n]*$/u, "one line"),
});

/** Changing settings in the browser: one section at a time, checked whole before anything is written. */
export function settingsChangeRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store, clock } = parts;
  app.put<{ Params: z.output<typeof section>; Body: z.output<typeof change> }>(
    "/api/settings/sections/:section",
    {
      schema: schemasOf({
        summary: "Change one section of the settings, in their file and where possible in what runs",
        tag: "desk",
        params: section,
        body: change,
        answer: changed,
      }),
    },
    async (request, reply) => {
      const { name: by } = await allowed(request, parts, "change-settings", null);
      const { section: of } = request.params;
      const { from } = request.body;
      const put = await editorOf(parts).put({ section: of, wanted: wantedOf(request.body), from, by });
      if (!put.ok && put.code === "faults") {
        const error = {
          code: put.faults[0]?.code,
          message: "The settings would have faults; nothing was changed.",
          faults: put.faults,
        };
        return reply.status(422).send({ error });
      }
      if (!put.ok) throw new RequestFault(put.code, put.text);
      const when =
        put.inForce === "now" ? "in force now" : "written; in force when the desk is started again";
      const text = `Settings changed: ${of}, ${when}.`;
      const row = { at: clock.now(), kind: "watch", site: null, subject: "settings", by, text };
      await store.amend((tx) => appendJournal(tx, [row]));
      return reply.send({ text, inForce: put.inForce });
    },
  );
  app.post<{ Body: z.output<typeof secret> }>(
    "/api/settings/secrets",
    {
      schema: schemasOf({
        summary:
          "Put a secret in; it is never told again, and the settings name it by the file that is answered",
        tag: "desk",
        body: secret,
        answer: z.object({ file: z.string() }),
      }),
    },
    async (request) => {
      const { name: by } = await allowed(request, parts, "change-settings", null);
      const { of } = request.body;
      const file = await editorOf(parts).keepSecret(of, request.body.secret);
      const text = `A secret for ${of} was put in, kept as ${file}.`;
      const row = { at: clock.now(), kind: "watch", site: null, subject: "settings", by, text };
      await store.amend((tx) => appendJournal(tx, [row]));
      return { file };
    },
  );
}

function wantedOf({ fields, text }: z.output<typeof change>): SectionWanted {
  if (fields !== undefined) return { kind: "fields", fields };
  return text === undefined ? { kind: "absent" } : { kind: "text", text };
}

function editorOf({ settings }: DeskParts): SettingsEditor {
  if (settings !== null) return settings;
  throw new RequestFault(
    "SETTINGS_NOT_EDITABLE",
    "This desk was started by a program and not from a file of settings.",
  );
}
