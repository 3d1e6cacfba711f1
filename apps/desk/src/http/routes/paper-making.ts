import { recipes } from "@earthbell/papers";
import type { FastifyInstance, FastifyReply } from "fastify";
import * as z from "zod";
import type { Action } from "../../accounts/access.ts";
import type { PaperOffice } from "../../papers/paper-office.ts";
import { appendJournal } from "../../store/journal.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";
import { heldSheetRoutes } from "./held-sheets.ts";
import { paperEnteredRoutes } from "./paper-entered.ts";
import { gather, type PaperAsked, paperAsked, paperIssued, wrong } from "./paper-asked.ts";

const change = z.object({ what: z.string(), before: z.string().nullable(), now: z.string().nullable() });
const issued = z.object({
  number: z.string(),
  revision: z.number(),
  date: z.string(),
  again: z.boolean(),
  changed: z.number(),
  changes: z.array(change),
});
/** Changes that are told in words; a register of a large fleet may have thousands. */
const MOST_CHANGES = 40;
const BODY_BYTES = 16 * 2 ** 20;

/** What a draft may do in the frame in which it is looked at: nothing but be read. */
const DRAFT_POLICY =
  "default-src 'none'; img-src data:; style-src 'unsafe-inline'; frame-ancestors 'self'; sandbox";

/** Making papers: a draft to be looked at, then the issue. */
export function paperMakingRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { papers } = parts;
  if (papers === null) return;
  draftRoutes(app, parts, papers);
  paperEnteredRoutes(app, parts, papers);
  heldSheetRoutes(app, parts, papers);
  app.post<{ Body: z.output<typeof paperIssued> }>(
    "/api/papers",
    {
      bodyLimit: BODY_BYTES,
      schema: schemasOf({
        summary: "Issue a paper: its next revision, or the same files again where nothing changed",
        tag: "papers",
        body: paperIssued,
        answer: issued.extend({ files: z.array(z.string()), notDrawn: z.string() }),
      }),
    },
    async (request, reply) => {
      const { body } = request;
      const { name: by } = await allowed(request, parts, "issue-paper", body.site ?? null);
      const formats = formatsOf(body);
      await keepResults(body, papers);
      const gathered = await gather(body, parts);
      const { date } = body;
      const result = await papers.make(gathered.of, {
        ...{ what: "issue", kind: body.kind, language: body.language, formats, by, ...gathered },
        ...(date === undefined ? {} : { date }),
      });
      if (!result.ok) return faulty(reply, result.faults);
      if (result.what !== "issue") throw new Error("an issue was asked for");
      const { issue, again, issued: files, notDrawn } = result.made;
      const text = `Paper issued: ${issue.number}, revision ${String(issue.revision)}${again ? " again" : ""} (${formats.join(", ")}).`;
      const happening = { at: parts.clock.now(), kind: "paper", site: body.site ?? null };
      await parts.store.amend((tx) => appendJournal(tx, [{ ...happening, subject: issue.number, by, text }]));
      return reply.send({ ...told(issue, again), files: files.map(({ name }) => name), notDrawn });
    },
  );
}

function draftRoutes(app: FastifyInstance, parts: DeskParts, papers: PaperOffice): void {
  app.post<{ Body: PaperAsked }>(
    "/api/papers/drafts",
    {
      bodyLimit: BODY_BYTES,
      schema: schemasOf({
        summary: "Make a draft of a paper, to be looked at; nothing is kept of it",
        tag: "papers",
        body: paperAsked,
        answer: issued.extend({ draft: z.string(), warnings: z.array(z.string()) }),
      }),
    },
    async (request, reply) => {
      const { body } = request;
      // What concerns all sites is shown to those only who may see them all.
      const action: Action = body.site === undefined ? "issue-paper" : "see-site";
      const { name: by } = await allowed(request, parts, action, body.site ?? null);
      const gathered = await gather(body, parts);
      const { kind, language } = body;
      const result = await papers.make(gathered.of, {
        ...{ what: "draft", kind, language, formats: [], by, ...gathered },
      });
      if (!result.ok) return faulty(reply, result.faults);
      if (result.what !== "draft") throw new Error("a draft was asked for");
      const { issue, again, html } = result.draft;
      const warnings = result.warnings.map(({ message }) => message);
      return reply.send({ ...told(issue, again), draft: papers.drafts.put(html, by), warnings });
    },
  );
  const params = z.strictObject({ draft: z.string().max(100) });
  app.get<{ Params: z.output<typeof params> }>(
    "/api/papers/drafts/:draft",
    {
      schema: schemasOf({
        summary: "A draft as a page of its own",
        tag: "papers",
        params,
        answer: z.string(),
      }),
    },
    async (request, reply) => {
      const { name } = await allowed(request, parts, "see-site", null);
      const html = papers.drafts.get(request.params.draft, name);
      if (html === null) throw new RequestFault("REQUEST_UNKNOWN", "This draft is not there any more.");
      return reply
        .type("text/html; charset=utf-8")
        .header("content-security-policy", DRAFT_POLICY)
        .header("cache-control", "no-store")
        .serializer(String)
        .send(html);
    },
  );
}

/** A record of what was measured is not written over by an empty one without that being said. */
async function keepResults(
  { kind, site, results, blank }: PaperAsked,
  { index }: PaperOffice,
): Promise<void> {
  if (kind !== "commissioning-record" || results !== undefined || blank) return;
  const known = await index.refresh(`${kind} ${site ?? ""}`);
  if (known?.hasResults === true)
    throw wrong(
      "results",
      "The issue before this one has results. Give them again, or say that this one is to be filled in by hand.",
    );
}

function formatsOf({ kind, formats }: z.output<typeof paperIssued>) {
  const { formats: offered } = recipes.find((one) => one.kind === kind)!;
  const other = formats.find((format) => !offered.includes(format));
  if (other !== undefined)
    throw wrong("formats", `A ${kind} is made as ${offered.join(", ")}, not ${other}.`);
  return [...new Set(formats)];
}

function told(
  issue: {
    readonly number: string;
    readonly revision: number;
    readonly date: string;
    readonly changes: readonly unknown[];
  },
  again: boolean,
) {
  const { number, revision, date, changes } = issue;
  return { number, revision, date, again, changed: changes.length, changes: changes.slice(0, MOST_CHANGES) };
}

interface Faulty {
  readonly code: string;
  readonly file: string;
  readonly message: string;
}

function faulty(reply: FastifyReply, faults: readonly Faulty[]): FastifyReply {
  const unkept = faults.find((fault) => fault.code === "FILE_FOLDER_UNUSABLE");
  // The desk's own trouble: its keeper finds the folder in the log, and who asked may ask again.
  if (unkept !== undefined) throw new Error(`${unkept.file}: ${unkept.message}`);
  const code = faults[0]?.code ?? "REQUEST_BODY_INVALID";
  return reply.status(422).send({ error: { code, message: "The paper could not be made.", faults } });
}
