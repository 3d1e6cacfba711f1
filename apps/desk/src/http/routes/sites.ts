import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { sees } from "../../accounts/access.ts";
import { siteLines } from "../../overview/site-lines.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { putSiteFile } from "../put-site-file.ts";
import { makeSiteToken } from "../make-token.ts";
import { sendPortions } from "../send-portions.ts";
import { unknownSite, watchedSite } from "../watched-site.ts";
import { schemasOf } from "../zod-schemas.ts";
import { sendAnswer, stepAnswer } from "../answer.ts";

const siteParams = z.strictObject({ site: z.string() });
/** The revision that a changed file was made from. */
const putQuery = z.strictObject({ from: z.coerce.number().int().min(0).optional() });
/** One site alone. */
const listQuery = z.strictObject({ id: z.string().optional() });
const siteLine = z.object({
  id: z.string(),
  name: z.string().nullable(),
  revision: z.number(),
  putAt: z.number(),
  putBy: z.string(),
  arrays: z.number(),
  openCases: z.number(),
  activeAlarms: z.number(),
  silentPaths: z.number(),
  /** By the file alone; null until it has been judged. */
  standing: z
    .object({
      onDate: z.string(),
      duty: z.enum(["required", "not-required", "undecided"]),
      path: z.enum(["meets", "falls-short", "unproven", "cannot-tell"]).nullable(),
      thresholdOhms: z.number().nullable(),
      provedOn: z.string().nullable(),
    })
    .nullable(),
  /** The lowest that an array was last heard to have; null where none is heard. */
  insulation: z.object({ ohms: z.number(), at: z.number() }).nullable(),
  drillPassedAt: z.number().nullable(),
});

/** Site files: what the desk watches, as it was put in. */
export function siteRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store } = parts;
  app.addContentTypeParser(["text/yaml", "application/yaml"], { parseAs: "string" }, (_, body, done) => {
    done(null, body);
  });
  app.get<{ Querystring: z.output<typeof listQuery> }>(
    "/api/sites",
    {
      schema: schemasOf({
        summary: "Every site that is watched, or one of them",
        tag: "sites",
        query: listQuery,
        answer: z.array(siteLine),
      }),
    },
    async (request, reply) => {
      const caller = await allowed(request, parts, "see-site", null);
      const { id } = request.query;
      const seen = id === undefined ? caller.sites : sees(caller, id) ? [id] : [];
      return sendPortions(request, reply, siteLines({ db: store.db, standing: parts.standing }, seen));
    },
  );
  app.get<{ Params: z.output<typeof siteParams> }>(
    "/api/sites/:site",
    {
      schema: schemasOf({
        summary: "The newest file of a site, as YAML",
        tag: "sites",
        params: siteParams,
        answer: z.string(),
      }),
    },
    async (request, reply) => {
      await allowed(request, parts, "see-site", request.params.site);
      const row = await store.db
        .selectFrom("site")
        .select(["text", "revision"])
        .where("id", "=", request.params.site)
        .where("removed_at", "is", null)
        .executeTakeFirst();
      if (row === undefined) throw unknownSite(request.params.site);
      return reply
        .type("text/yaml; charset=utf-8")
        .header("etag", `"${String(row.revision)}"`)
        .serializer(String)
        .send(row.text);
    },
  );
  siteRecordRoute(app, parts);
  app.put<{ Params: z.output<typeof siteParams>; Querystring: z.output<typeof putQuery>; Body: string }>(
    "/api/sites/:site",
    {
      schema: schemasOf({
        summary: "Put a site file in; every fault of the file is reported at once",
        tag: "sites",
        params: siteParams,
        query: putQuery,
        body: z.string(),
        consumes: "text/yaml",
        answer: z.object({
          site: z.string(),
          revision: z.number(),
          unchanged: z.boolean(),
          remarks: z.array(z.string()),
        }),
      }),
    },
    async (request, reply) => {
      const { site } = request.params;
      const { name: by } = await allowed(request, parts, "change-site", site);
      const { from } = request.query;
      const put = await putSiteFile(parts, {
        ...{ site, text: request.body, by },
        ...(from === undefined ? {} : { from }),
      });
      if (!put.ok) return reply.status(422).send({ error: faultsOf(put.faults) });
      const { ok: _, ...said } = put;
      return reply.send(said);
    },
  );
  removeRoute(app, parts);
  tokenRoute(app, parts);
}

function faultsOf(faults: readonly { readonly code: string; readonly message: string }[]): object {
  return { code: faults[0]?.code ?? "INPUT_FORMAT_WRONG", message: "The site file has faults.", faults };
}

/** A token by which the site's devices push readings. It is shown once. */
function tokenRoute(app: FastifyInstance, parts: DeskParts): void {
  const { store, clock } = parts;
  app.post<{ Params: z.output<typeof siteParams>; Body: { label: string } }>(
    "/api/sites/:site/tokens",
    {
      schema: schemasOf({
        summary: "Make a token by which the site pushes readings; it is shown once",
        tag: "sites",
        params: siteParams,
        body: z.strictObject({ label: z.string().trim().min(1).max(200) }),
        answer: z.object({ token: z.string() }),
      }),
    },
    async (request) => {
      const { name: by } = await allowed(request, parts, "keep-desk", null);
      const { site } = request.params;
      const token = await makeSiteToken(store, site, { label: request.body.label, by, at: clock.now() });
      if (token === null) throw unknownSite(site);
      return { token };
    },
  );
}

function removeRoute(app: FastifyInstance, parts: DeskParts): void {
  const { watch } = parts;
  app.delete<{ Params: z.output<typeof siteParams> }>(
    "/api/sites/:site",
    {
      schema: schemasOf({
        summary: "Watch a site no longer",
        tag: "sites",
        params: siteParams,
        answer: stepAnswer,
      }),
    },
    async (request, reply) => {
      const { site } = request.params;
      const { name } = await allowed(request, parts, "keep-desk", null);
      const answer = await watch.removeSite(site, name);
      if (answer.ok) await parts.siteFiles?.layAside(site);
      return sendAnswer(reply, answer);
    },
  );
}

function siteRecordRoute(app: FastifyInstance, parts: DeskParts): void {
  app.get<{ Params: z.output<typeof siteParams> }>(
    "/api/sites/:site/record",
    {
      schema: schemasOf({
        summary: "The newest file of a site as it was read: numbers in base units, every field by its name",
        tag: "sites",
        params: siteParams,
        answer: z.record(z.string(), z.unknown()),
      }),
    },
    async (request, reply) => {
      await allowed(request, parts, "see-site", request.params.site);
      const record = await watchedSite(parts.store, request.params.site);
      return reply.type("application/json; charset=utf-8").serializer(String).send(record);
    },
  );
}
