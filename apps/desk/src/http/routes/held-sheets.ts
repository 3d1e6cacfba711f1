import type { HeldSheet } from "@earthbell/model";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import type { PaperOffice } from "../../papers/paper-office.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";

const which = z.object({
  sheet: z.string(),
  /** Family of devices that it is for. */
  family: z.string(),
  revision: z.number().nullable(),
  /** Of what it holds, as its paper states it. */
  digest: z.string(),
});
const whole = which.extend({ holds: z.record(z.string(), z.unknown()) });
const ofSite = z.strictObject({ site: z.string().max(200) });
const ofSheet = ofSite.extend({ sheet: z.string().max(200) });

/** The setting sheets that can be ticked at a site, for whoever may issue its papers. */
export function heldSheetRoutes(app: FastifyInstance, parts: DeskParts, papers: PaperOffice): void {
  app.get<{ Params: z.output<typeof ofSite> }>(
    "/api/sites/:site/setting-sheets",
    {
      schema: schemasOf({
        summary: "The setting sheets of this team, to be ticked at a site",
        tag: "papers",
        params: ofSite,
        answer: z.array(which),
      }),
    },
    async (request) => {
      await allowed(request, parts, "issue-paper", request.params.site);
      const known = [...(await papers.index.all()).values()];
      const names = known.filter(({ kind }) => kind === "setting-sheet").map(({ of }) => of);
      const held = await Promise.all(names.toSorted().map((name) => papers.sheet(name)));
      return held.flatMap((one) => (one === null ? [] : [whichOf(one)]));
    },
  );
  app.get<{ Params: z.output<typeof ofSheet> }>(
    "/api/sites/:site/setting-sheets/:sheet",
    {
      schema: schemasOf({
        summary: "The newest revision of a setting sheet, with its steps, to be ticked at a site",
        tag: "papers",
        params: ofSheet,
        answer: whole,
      }),
    },
    async (request): Promise<z.infer<typeof whole>> => {
      const { site, sheet } = request.params;
      await allowed(request, parts, "issue-paper", site);
      const held = await papers.sheet(sheet);
      if (held === null)
        throw new RequestFault("REQUEST_UNKNOWN", `There is no setting sheet ${sheet} here.`);
      return { ...whichOf(held), holds: { ...held.sheet } };
    },
  );
}

function whichOf({ sheet, revision, digest }: HeldSheet): z.infer<typeof which> {
  return { sheet: sheet.id, family: sheet.device.family, revision, digest };
}
