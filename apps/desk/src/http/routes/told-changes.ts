import type { FastifyInstance, FastifyReply } from "fastify";
import * as z from "zod";
import { mayDo } from "../../accounts/access.ts";
import { forgetWay } from "../../told/forget-way.ts";
import { type PlannedSite, planChange, type PlannedChange } from "../../told/plan-change.ts";
import type { SitePeople } from "../../told/site-people.ts";
import { appendJournal } from "../../store/index.ts";
import { allowed, type Caller } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { putSiteFile } from "../put-site-file.ts";
import { RequestFault } from "../request-fault.ts";
import { FEW_TESTS, sendTest } from "../send-test.ts";
import { personOf } from "../seen-people.ts";
import { schemasOf } from "../zod-schemas.ts";
import { planned, testAnswer, wanted, wantedSeen, wayOfPerson } from "./told-schemas.ts";

/** Sites whose whole text is told with a plan, so that the time to notice can be worked out for them. */
const SITES_WITH_TEXT = 3;

type Wanted = z.output<typeof wanted>;

/** Changes of somebody at every site where they stand: what would change first, then the change; and tests of an address. */
export function toldChangeRoutes(app: FastifyInstance, parts: DeskParts, people: SitePeople): void {
  app.post<{ Body: Wanted }>(
    "/api/told-people/preview",
    {
      schema: schemasOf({
        summary: "What a change of a person would change in site files; nothing is changed",
        tag: "people",
        body: wanted,
        answer: planned,
      }),
    },
    async (request, reply) => {
      const caller = await allowed(request, parts, "change-people", request.body.of.site);
      const { plan, notAllowed } = await planOf(request.body, caller, parts, people);
      return plan.ok ? told(plan, notAllowed) : faulty(reply, plan);
    },
  );
  app.post<{ Body: z.output<typeof wantedSeen> }>(
    "/api/told-people/apply",
    {
      schema: schemasOf({
        summary: "Change a person in site files, each as a new revision",
        tag: "people",
        body: wantedSeen,
        answer: z.object({ sites: z.number(), text: z.string() }),
      }),
    },
    async (request, reply) => {
      const caller = await allowed(request, parts, "change-people", request.body.of.site);
      const { plan } = await planOf(request.body, caller, parts, people);
      if (!plan.ok) return faulty(reply, plan);
      if (plan.seen !== request.body.seen)
        throw new RequestFault(
          "SITE_FILE_CHANGED",
          "A site file was changed since this was looked at. Nothing was changed; look at it again.",
        );
      return apply(plan.sites, request.body, caller, parts, people);
    },
  );
  testRoute(app, parts, people);
}

async function planOf(
  { of, sites, change }: Wanted,
  caller: Caller,
  parts: DeskParts,
  people: SitePeople,
): Promise<{ readonly plan: PlannedChange; readonly notAllowed: number }> {
  const { entries } = await personOf(of, caller, parts, people);
  const asked = new Set(sites ?? entries.map(({ site }) => site));
  const meant = entries.filter(({ site }) => asked.has(site));
  const may = meant.filter(({ site }) => mayDo(caller, "change-people", site).ok);
  const plan = await planChange(parts.store.db, may, change);
  return {
    plan,
    notAllowed: new Set(meant.map(({ site }) => site)).size - new Set(may.map(({ site }) => site)).size,
  };
}

function told({ sites, unchanged, seen }: Extract<PlannedChange, { ok: true }>, notAllowed: number) {
  return {
    sites: sites.map(({ site, rewritten, changes, before, text }, at) => ({
      ...{ site, rewritten, changes },
      texts: at < SITES_WITH_TEXT ? { before, after: text } : null,
    })),
    ...{ unchanged, notAllowed, seen },
  };
}

function faulty(reply: FastifyReply, { faults }: Extract<PlannedChange, { ok: false }>): FastifyReply {
  const { code } = faults[0]!;
  return reply.status(422).send({ error: { code, message: "Nothing was changed.", faults } });
}

async function apply(
  sites: readonly PlannedSite[],
  { of, change }: Wanted,
  { name: by }: Caller,
  parts: DeskParts,
  people: SitePeople,
): Promise<{ readonly sites: number; readonly text: string }> {
  const done: string[] = [];
  for (const { site, text, revision } of sites) {
    const put = await putSiteFile(parts, { site, text, by, from: revision }).catch((error: unknown) => {
      throw error instanceof RequestFault && done.length > 0
        ? new RequestFault(error.code, `${error.message} Changed before that: ${done.join(", ")}.`)
        : error;
    });
    if (!put.ok) throw new Error(`A file that was read is not taken: ${put.faults[0]!.message}`);
    done.push(site);
  }
  const text = changeText(sites, change);
  if (sites.length > 0) await note(parts, { subject: `${of.person} at ${of.site}`, by, text });
  if (change.address !== undefined)
    await forgetWay(parts, await people.read(parts.store.db), change.address, by);
  return { sites: sites.length, text };
}

function changeText(sites: readonly PlannedSite[], { address }: Wanted["change"]): string {
  if (sites.length === 0) return "Nothing has changed.";
  const ids = sites.map(({ site }) => site);
  const where =
    ids.length === 1 ? `at ${ids[0]!}` : `at ${ids.length} sites (${ids.slice(0, 20).join(", ")})`;
  if (address !== undefined) return `${address.to} in place of ${address.from} ${where}.`;
  const words = new Set(
    sites.flatMap(({ changes }) => changes.map(({ what, now }) => `${what}: ${now ?? "not said"}`)),
  );
  return `Changed ${where}: ${[...words].slice(0, 10).join("; ")}.`;
}

function note(
  { store, clock }: DeskParts,
  row: { readonly subject: string; readonly by: string; readonly text: string },
): Promise<void> {
  const happening = { ...row, at: clock.now(), kind: "person", site: null };
  return store.amend((tx) => appendJournal(tx, [happening]));
}

function testRoute(app: FastifyInstance, parts: DeskParts, people: SitePeople): void {
  app.post<{ Body: z.output<typeof wayOfPerson> }>(
    "/api/told-people/tests",
    {
      config: FEW_TESTS,
      schema: schemasOf({
        summary: "Send a test to an address of a person; one that is handed over ends its mark as broken",
        tag: "people",
        body: wayOfPerson,
        answer: testAnswer,
      }),
    },
    async (request) => {
      const { of, channel, address } = request.body;
      const caller = await allowed(request, parts, "mend-address", of.site);
      const { ways } = await personOf(of, caller, parts, people);
      if (!ways.some((way) => way.channel === channel && way.address === address))
        throw new RequestFault("REQUEST_UNKNOWN", `${of.person} has no such address in the site files.`);
      const tried = await sendTest(parts, { channel, address }, caller.name);
      const marked = await parts.store.db
        .selectFrom("broken_way")
        .select("since_at")
        .where("channel", "=", channel)
        .where("address", "=", address)
        .executeTakeFirst();
      const mended = tried.outcome === "accepted" && marked !== undefined;
      if (mended) await parts.watch.mendWay({ channel, address }, caller.name);
      return { ...tried, mended };
    },
  );
}
