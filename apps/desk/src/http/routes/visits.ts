import type { HandedVisit } from "@earthbell/model";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { sees } from "../../accounts/access.ts";
import { listHanded, readHanded } from "../../visits/read-visits.ts";
import { takeEntries } from "../../visits/take-entries.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { unknownSite } from "../watched-site.ts";
import { schemasOf } from "../zod-schemas.ts";
import { photoRoutes } from "./photos.ts";
import { type VisitHanded, visitHanded, visitParams } from "./visit-schemas.ts";

const record = z.record(z.string(), z.unknown());
const listQuery = z.strictObject({
  site: z.string().optional(),
  case: z.string().optional(),
  limit: z.coerce.number().int().min(1).max(5000).default(500),
});

/** Visits that people hand over, also bit by bit and several at once. */
export function visitRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store, clock } = parts;
  app.get<{ Querystring: z.output<typeof listQuery> }>(
    "/api/visits",
    {
      schema: schemasOf({
        summary: "Visits that were handed over, newest first",
        tag: "visits",
        query: listQuery,
        answer: z.array(record),
      }),
    },
    async (request) => {
      const { limit, ...only } = request.query;
      const caller = await allowed(request, parts, "see-site", only.site ?? null);
      return (await listHanded(store.db, only, limit)).filter(({ site }) => sees(caller, site));
    },
  );
  app.get<{ Params: { id: string } }>(
    "/api/visits/:id",
    {
      schema: schemasOf({
        summary: "A visit with everybody's entries",
        tag: "visits",
        params: visitParams,
        answer: record,
      }),
    },
    async (request) => {
      const visit = await readHanded(store.db, request.params.id);
      await allowed(request, parts, "see-site", visit?.site ?? null);
      return known(visit, request.params.id);
    },
  );
  app.post<{ Params: { id: string }; Body: VisitHanded }>(
    "/api/visits/:id/entries",
    {
      schema: schemasOf({
        summary: "Hand over a visit, or more of it; what is on record already is left as it is",
        tag: "visits",
        params: visitParams,
        body: visitHanded,
        answer: record,
      }),
    },
    async (request) => {
      const { id } = request.params;
      const { beginning, entries } = request.body;
      const { name: by } = await allowed(request, parts, "work-case", beginning.site);
      await refuseUnknownSite(parts, beginning);
      await refuseForeignCase(parts, beginning);
      const taken = await takeEntries(store, { visit: id, beginning, entries }, by, clock.now());
      if (!taken.ok) throw new RequestFault(taken.code, taken.text);
      await putFindingsOnCase(parts, id, request.body, by);
      return known(await readHanded(store.db, id), id);
    },
  );
  photoRoutes(app, parts);
}

function known(visit: HandedVisit | null, id: string): HandedVisit {
  if (visit === null) throw new RequestFault("REQUEST_UNKNOWN", `No visit ${id} was handed over.`);
  return visit;
}

async function refuseUnknownSite({ store }: DeskParts, { site }: VisitHanded["beginning"]): Promise<void> {
  const row = await store.db.selectFrom("site").select("id").where("id", "=", site).executeTakeFirst();
  if (row === undefined) throw unknownSite(site);
}

async function refuseForeignCase(
  { store }: DeskParts,
  { site, case: of }: VisitHanded["beginning"],
): Promise<void> {
  if (of === null) return;
  const row = await store.db.selectFrom("fault_case").select("site").where("id", "=", of).executeTakeFirst();
  if (row?.site === site) return;
  const message = `Site ${site} has no case ${of}.`;
  throw new RequestFault("REQUEST_BODY_INVALID", message, [{ field: "body.beginning.case", message }]);
}

/** What was found stands in the history of the case as well, once for each finding however often it is sent. */
async function putFindingsOnCase(
  { watch, log }: DeskParts,
  visit: string,
  { beginning, entries }: VisitHanded,
  by: string,
): Promise<void> {
  for (const entry of entries) {
    if (entry.kind !== "found" || beginning.case === null) continue;
    const text = `Visit "${beginning.title}" found: ${entry.text}`.slice(0, 4000);
    const step = await watch.stepCase(
      beginning.case,
      { type: "remark", by, text },
      { requestKey: `visit ${visit} ${entry.id}` },
    );
    if (!step.ok) log.warn({ visit, code: step.refusal.code }, "a finding was not put on its case");
  }
}
