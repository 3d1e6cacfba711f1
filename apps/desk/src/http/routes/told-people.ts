import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { type Bearer, mayDo } from "../../accounts/access.ts";
import { lastAnswer, lastMessage } from "../../told/last-told.ts";
import { around, concernOf, personView } from "../../told/person-view.ts";
import { sitePeople, type SitePeople } from "../../told/site-people.ts";
import { found, type ToldPerson } from "../../told/told-people.ts";
import { allowed } from "../caller.ts";
import { eachInTurn } from "../../others-first.ts";
import type { DeskParts } from "../desk-parts.ts";
import { personOf, seenBy } from "../seen-people.ts";
import { schemasOf } from "../zod-schemas.ts";
import { entryOfFile, toldPage, toldQuery, toldRef, toldWhole } from "./told-schemas.ts";
import { toldChangeRoutes } from "./told-changes.ts";

/** People between which others go first. */
const AT_ONCE = 500;
/** Entries of one person that are listed; the rest are counted. */
const MOST_ENTRIES = 500;

/** Everybody who is told about faults, over all sites. */
export function toldPeopleRoutes(app: FastifyInstance, parts: DeskParts): void {
  const people = sitePeople();
  listRoute(app, parts, people);
  oneRoute(app, parts, people);
  toldChangeRoutes(app, parts, people);
}

function listRoute(app: FastifyInstance, parts: DeskParts, people: SitePeople): void {
  app.get<{ Querystring: z.output<typeof toldQuery> }>(
    "/api/told-people",
    {
      schema: schemasOf({
        summary: "Everybody who is told about faults, by address over all sites",
        tag: "people",
        query: toldQuery,
        answer: toldPage,
      }),
    },
    async (request) => {
      const caller = await allowed(request, parts, "see-people", null);
      const all = await seenBy(caller, parts, people);
      const { find, only, limit } = request.query;
      const looked = await aroundNow(parts);
      const of = (one: ToldPerson) => concernOf(one, looked);
      const counts = { broken: 0, away: 0 };
      await eachInTurn(all, AT_ONCE, (one) => {
        const concern = of(one);
        if (concern !== null) counts[concern] += 1;
      });
      const byConcern: Record<"broken" | "away" | "none", ToldPerson[]> = { broken: [], away: [], none: [] };
      await eachInTurn(await found(all, find), AT_ONCE, (one) => {
        const concern = of(one);
        if (only === undefined || concern === only) byConcern[concern ?? "none"].push(one);
      });
      const matching = [...byConcern.broken, ...byConcern.away, ...byConcern.none];
      const shown = matching.slice(0, limit);
      return {
        all: all.length,
        ...counts,
        found: matching.length,
        people: await Promise.all(shown.map((one) => withLast(one, caller, parts, looked))),
        unnamed: mayDo(caller, "keep-desk", null).ok ? unnamed(all, looked) : [],
      };
    },
  );
}

function oneRoute(app: FastifyInstance, parts: DeskParts, people: SitePeople): void {
  app.get<{ Params: z.output<typeof toldRef> }>(
    "/api/told-people/:site/:person",
    {
      schema: schemasOf({
        summary: "One person over all sites, named by any site and the id there",
        tag: "people",
        params: toldRef,
        answer: toldWhole,
      }),
    },
    async (request) => {
      const caller = await allowed(request, parts, "see-people", request.params.site);
      const one = await personOf(request.params, caller, parts, people);
      const entries = one.entries.slice(0, MOST_ENTRIES).map((entry) => ({
        ...entryOfFile(entry),
        mayChange: mayDo(caller, "change-people", entry.site).ok,
      }));
      return { ...(await withLast(one, caller, parts, await aroundNow(parts))), entries };
    },
  );
}

type Looked = ReturnType<typeof around>;

async function aroundNow({ store, clock, setUp }: DeskParts): Promise<Looked> {
  const rows = await store.db.selectFrom("broken_way").selectAll().execute();
  return around(
    clock.now(),
    rows,
    setUp.channels.map(({ kind }) => kind),
  );
}

async function withLast(one: ToldPerson, { sites }: Bearer, { store: { db } }: DeskParts, looked: Looked) {
  const [message, answer] = await Promise.all([
    lastMessage(db, one.ways, sites),
    lastAnswer(db, one.ways, sites),
  ]);
  return { ...personView(one, looked), message, answer };
}

/** Addresses that reach nobody and that no site file names: of keepers, or of people whose address was replaced. */
function unnamed(all: readonly ToldPerson[], { broken }: Looked) {
  if (broken.size === 0) return [];
  const named = new Set(
    all.flatMap(({ ways }) => ways.map(({ channel, address }) => `${channel} ${address}`)),
  );
  return [...broken]
    .filter(([name]) => !named.has(name))
    .map(([, { channel, address, since_at: sinceAt, reason }]) => ({ channel, address, sinceAt, reason }));
}
