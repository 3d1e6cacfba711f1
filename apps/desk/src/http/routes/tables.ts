import type { FastifyInstance, FastifyReply } from "fastify";
import * as z from "zod";
import { acceptAll } from "../../listen/table/accept-all.ts";
import { savedMapping } from "../../listen/table/saved-mapping.ts";
import {
  type Mapping,
  MAPPING_FORMATS,
  PLAIN_MAPPING,
  readMapping,
  tableReadings,
} from "../../listen/table/table-readings.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";

const named = z.strictObject({ name: z.string().trim().min(1).max(100) });
const pushed = z.strictObject({
  site: z.string(),
  device: z.string().min(1).max(200),
  array: z.string().min(1).max(200).optional(),
  mapping: z.string().optional(),
});
const accepted = z.object({
  taken: z.number(),
  known: z.number(),
  setAside: z.array(z.object({ key: z.string(), reason: z.string() })),
  /** Rows without a reading, and events that no rule names. */
  passedOver: z.number(),
});
const TABLES_BYTES = 32 * 2 ** 20;

/** Tables of insulation readings, and event logs: how they are read is saved once, and the tables follow. */
export function tableRoutes(app: FastifyInstance, parts: DeskParts): void {
  app.addContentTypeParser(["text/csv", "text/yaml"], { parseAs: "string" }, (_, body, done) => {
    done(null, body);
  });
  mappingRoutes(app, parts);
  app.post<{ Querystring: z.output<typeof pushed>; Body: string }>(
    "/api/push/table",
    {
      bodyLimit: TABLES_BYTES,
      schema: schemasOf({
        summary:
          "Push a table (CSV) of insulation readings or an event log; every fault of it is reported at once",
        tag: "readings",
        query: pushed,
        body: z.string(),
        consumes: "text/csv",
        answer: accepted,
      }),
    },
    async (request, reply) => {
      const { site, mapping: name, ...place } = request.query;
      await allowed(request, parts, "push", site);
      const mapping = name === undefined ? PLAIN_MAPPING : await mappingNamed(parts, name);
      const read = tableReadings(request.body, "table.csv", mapping, { site, ...place }, parts.clock.now());
      if (!read.ok) return faulty(reply, read.faults);
      return { ...(await acceptAll(parts.watch.accept, read.readings)), passedOver: read.passedOver };
    },
  );
}

function faulty(reply: FastifyReply, faults: readonly { readonly code: string }[]): FastifyReply {
  const code = faults[0]?.code ?? "REQUEST_BODY_INVALID";
  return reply
    .status(422)
    .send({ error: { code, message: "The text has faults; nothing was taken in.", faults } });
}

async function mappingNamed({ store }: DeskParts, name: string): Promise<Mapping> {
  const mapping = await savedMapping(store.db, name);
  if (mapping === null) throw new RequestFault("REQUEST_UNKNOWN", `No mapping ${name} is saved.`);
  return mapping;
}

function mappingRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store, clock } = parts;
  app.get(
    "/api/mappings",
    {
      schema: schemasOf({
        summary: "Saved column mappings",
        tag: "readings",
        answer: z.array(named.extend({ text: z.string() })),
      }),
    },
    async (request) => {
      await allowed(request, parts, "keep-desk", null);
      return store.db
        .selectFrom("column_mapping")
        .select(["name", "mapping_json as text"])
        .orderBy("name")
        .execute();
    },
  );
  app.put<{ Params: z.output<typeof named>; Body: string }>(
    "/api/mappings/:name",
    {
      schema: schemasOf({
        summary: `Save how a table is read (${MAPPING_FORMATS.join(" or ")})`,
        tag: "readings",
        params: named,
        body: z.string(),
        consumes: "text/yaml",
        answer: named,
      }),
    },
    async (request, reply) => {
      const { name: by } = await allowed(request, parts, "keep-desk", null);
      const { name } = request.params;
      const read = readMapping(request.body, "mapping.yaml");
      if (!read.ok) return faulty(reply, read.faults);
      const row = { mapping_json: request.body, put_at: clock.now(), put_by: by };
      await store.amend((tx) =>
        tx
          .insertInto("column_mapping")
          .values({ name, ...row })
          .onConflict((conflict) => conflict.column("name").doUpdateSet(row))
          .execute(),
      );
      return { name };
    },
  );
}
