import type { Site } from "@earthbell/engine";
import {
  editSiteText,
  type InputFault,
  readRegisterTable,
  type RegisterRow,
  type SiteChange,
} from "@earthbell/model";
import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import * as z from "zod";
import { mayDo } from "../../accounts/access.ts";
import { type Caller, callerOf } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { putSiteFile } from "../put-site-file.ts";
import { schemasOf } from "../zod-schemas.ts";

const TABLE_BYTES = 16 * 2 ** 20;
const change = z.object({
  line: z.number(),
  what: z.string(),
  before: z.string().nullable(),
  now: z.string(),
});
const planned = z.object({
  sites: z.array(
    z.object({
      site: z.string(),
      revision: z.number(),
      changes: z.array(change),
      /** The file is written anew and its remarks are lost. */
      rewritten: z.boolean(),
    }),
  ),
  /** Rows that ask for what is so already. */
  unchanged: z.number(),
});

type ChangeWords = z.infer<typeof change>;

/** A change of one site file by a table. */
interface Plan {
  readonly site: string;
  readonly revision: number;
  readonly text: string;
  readonly rewritten: boolean;
  readonly changes: readonly z.infer<typeof change>[];
}

type Planned =
  | { readonly ok: true; readonly plans: readonly Plan[]; readonly unchanged: number }
  | { readonly ok: false; readonly faults: readonly InputFault[] };

/** Changes of many sites by one table: what would change first, then the change itself. */
export function registerTableRoutes(app: FastifyInstance, parts: DeskParts): void {
  app.addContentTypeParser("text/csv", { parseAs: "string" }, (_, body, done) => {
    done(null, body);
  });
  const schema = (summary: string) =>
    schemasOf({ summary, tag: "sites", body: z.string(), consumes: "text/csv", answer: planned });
  app.post<{ Body: string }>(
    "/api/register/preview",
    {
      bodyLimit: TABLE_BYTES,
      schema: schema("What a table (CSV) would change in site files; nothing is changed"),
    },
    async (request, reply) => {
      const found = await plan(request, parts);
      return found.ok ? told(found) : faulty(reply, found.faults);
    },
  );
  app.post<{ Body: string }>(
    "/api/register/apply",
    { bodyLimit: TABLE_BYTES, schema: schema("Change site files by a table (CSV), each as a new revision") },
    async (request, reply) => {
      const found = await plan(request, parts);
      if (!found.ok) return faulty(reply, found.faults);
      const { name: by } = await callerOf(request, parts);
      for (const { site, text, revision } of found.plans) {
        const put = await putSiteFile(parts, { site, text, by, from: revision });
        if (!put.ok) return faulty(reply, put.faults);
      }
      return told(found);
    },
  );
}

function told({ plans, unchanged }: Extract<Planned, { ok: true }>) {
  return { sites: plans.map(({ text: _, ...rest }) => rest), unchanged };
}

function faulty(reply: FastifyReply, faults: readonly InputFault[]): FastifyReply {
  const { code } = faults[0]!;
  return reply.status(422).send({ error: { code, message: "Nothing was changed.", faults } });
}

async function plan(request: FastifyRequest<{ Body: string }>, parts: DeskParts): Promise<Planned> {
  const caller = await callerOf(request, parts);
  const read = readRegisterTable(request.body, "table");
  if (!read.ok) return read;
  const bySite = new Map<string, RegisterRow[]>();
  for (const row of read.record) bySite.set(row.site, [...(bySite.get(row.site) ?? []), row]);
  const faults: InputFault[] = [];
  const plans: Plan[] = [];
  let unchanged = 0;
  for (const [site, rows] of bySite) {
    const found = await planSite(site, rows, caller, parts);
    if ("faults" in found) faults.push(...found.faults);
    else if (found.changes.length === 0) unchanged += rows.length;
    else plans.push(found);
  }
  const inOrder = faults.toSorted((a, b) => (a.line ?? 0) - (b.line ?? 0));
  return faults.length > 0 ? { ok: false, faults: inOrder } : { ok: true, plans, unchanged };
}

async function planSite(
  id: string,
  rows: readonly RegisterRow[],
  caller: Caller,
  { store }: DeskParts,
): Promise<Plan | { readonly faults: readonly InputFault[] }> {
  const row = await store.db
    .selectFrom("site")
    .select(["text", "site_json", "revision"])
    .where("id", "=", id)
    .where("removed_at", "is", null)
    .executeTakeFirst();
  const access = mayDo(caller, "change-site", id);
  if (!access.ok || row === undefined) {
    const message = access.ok ? `No site ${id} is watched here.` : access.text;
    return {
      faults: rows.map(({ line }) => cellFault(line, "site", id, "a site that you may change", message)),
    };
  }
  const site = JSON.parse(row.site_json) as Site;
  const paths = site.paths.map((path) => path.id);
  const faults: InputFault[] = [];
  const changes: { readonly line: number; readonly change: SiteChange }[] = [];
  for (const { line, changes: own } of rows)
    for (const one of own) {
      if (one.kind === "proof" && !paths.includes(one.path))
        faults.push(
          cellFault(line, "path", one.path, paths.join(", "), `Site ${id} has no path ${one.path}.`),
        );
      else if (!isSo(site, one)) changes.push({ line, change: one });
    }
  if (faults.length > 0) return { faults };
  const edited = editSiteText(
    row.text,
    site,
    changes.map((one) => one.change),
  );
  return {
    ...{ site: id, revision: row.revision, ...edited },
    changes: changes.map(({ line, change: one }) => ({ line, ...words(site, one) })),
  };
}

function cellFault(line: number, field: string, value: string, allowed: string, message: string): InputFault {
  return { code: "HISTORY_VALUE_INVALID", file: "table", line, column: null, field, value, allowed, message };
}

/** Whether the site file says so already. */
function isSo(site: Site, change: SiteChange): boolean {
  switch (change.kind) {
    case "name":
      return site.name === change.name;
    case "owner-told":
      return site.ownerInformed?.on === change.on;
    case "proof":
      return site.proofs.some(
        ({ path, kind, on }) => path === change.path && kind === change.proof && on === change.on,
      );
  }
}

function words(site: Site, change: SiteChange): Omit<ChangeWords, "line"> {
  switch (change.kind) {
    case "name":
      return { what: "name", before: site.name ?? null, now: change.name };
    case "owner-told":
      return { what: "owner told on", before: site.ownerInformed?.on ?? null, now: change.on };
    case "proof": {
      const newest = site.proofs
        .filter(({ path, kind }) => path === change.path && kind === change.proof)
        .map(({ on }) => on)
        .sort()
        .at(-1);
      return { what: `newest ${change.proof} of ${change.path}`, before: newest ?? null, now: change.on };
    }
  }
}
