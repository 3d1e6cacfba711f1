import { type HistoryContext, type HistorySeries, readHistory } from "@earthbell/engine";
import {
  type ArrayLimits,
  columnsText,
  localTime,
  readColumns,
  readHistoryTable,
  type WatchReading,
} from "@earthbell/model";
import type { FastifyInstance, FastifyReply } from "fastify";
import * as z from "zod";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";

const named = z.strictObject({ name: z.string().trim().min(1).max(100) });
const pushed = z.strictObject({
  site: z.string(),
  device: z.string().min(1).max(200),
  mapping: z.string().optional(),
});
const accepted = z.object({
  taken: z.number(),
  known: z.number(),
  setAside: z.array(z.object({ key: z.string(), reason: z.string() })),
});
const TABLES_BYTES = 32 * 2 ** 20;
/** Readings that go into one transaction. */
const AT_ONCE = 2000;

/** Tables of insulation readings: how their columns are read is saved once, and the tables follow. */
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
        summary: "Push a table (CSV) of insulation readings; every fault of the table is reported at once",
        tag: "readings",
        query: pushed,
        body: z.string(),
        consumes: "text/csv",
        answer: accepted,
      }),
    },
    async (request, reply) => {
      const { site, device, mapping } = request.query;
      await allowed(request, parts, "push", site);
      const columns = mapping === undefined ? undefined : await savedColumns(parts, mapping);
      const table = readHistoryTable(request.body, "table.csv", columns);
      if (!table.ok) return faulty(reply, table.faults);
      const readings = table.record.arrays.flatMap(({ array, readings: own }) =>
        own.map(
          ({ at, ohms }): WatchReading => ({
            site,
            array,
            device,
            at,
            kind: "insulation",
            value: Number.isFinite(ohms) && ohms >= 0 ? ohms : null,
            unit: "ohm",
            quality: qualityOf(at, ohms, parts.clock.now()),
            source: "table",
            key: JSON.stringify(["table", site, array, device, at]),
          }),
        ),
      );
      return acceptAll(parts, readings);
    },
  );
  historyRoute(app, parts);
}

const DAY_MS = 86_400_000;

/** A figure of last year raises nothing today: what is older than a day is taken as history. */
function qualityOf(at: number, ohms: number, now: number): WatchReading["quality"] {
  if (!Number.isFinite(ohms) || ohms < 0) return "implausible";
  return now - at > DAY_MS ? "past" : "good";
}

async function acceptAll({ watch }: DeskParts, readings: readonly WatchReading[]) {
  const sum = { taken: 0, known: 0, setAside: [] as { readonly key: string; readonly reason: string }[] };
  for (let from = 0; from < readings.length; from += AT_ONCE) {
    const { taken, known, setAside } = await watch.accept(readings.slice(from, from + AT_ONCE));
    sum.taken += taken;
    sum.known += known;
    sum.setAside.push(...setAside.slice(0, 100 - sum.setAside.length));
  }
  return sum;
}

function faulty(reply: FastifyReply, faults: readonly { readonly code: string }[]): FastifyReply {
  const code = faults[0]?.code ?? "REQUEST_BODY_INVALID";
  return reply
    .status(422)
    .send({ error: { code, message: "The text has faults; nothing was taken in.", faults } });
}

async function savedColumns({ store }: DeskParts, name: string) {
  const row = await store.db
    .selectFrom("column_mapping")
    .select("mapping_json")
    .where("name", "=", name)
    .executeTakeFirst();
  const read = row === undefined ? null : readColumns(row.mapping_json, `mapping ${name}`);
  if (read?.ok !== true) throw new RequestFault("REQUEST_UNKNOWN", `No mapping ${name} is saved.`);
  return read.record;
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
        summary: "Save how the columns of a table are read (earthbell.columns/1)",
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
      const read = readColumns(request.body, "mapping.yaml");
      if (!read.ok) return faulty(reply, read.faults);
      const row = { mapping_json: columnsText(read.record), put_at: clock.now(), put_by: by };
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

const arrayParams = z.strictObject({ site: z.string(), array: z.string() });

/** What the stored insulation of an array says: the days that are kept for ever, and the single readings of the last weeks. */
function historyRoute(app: FastifyInstance, parts: DeskParts): void {
  app.get<{ Params: z.output<typeof arrayParams> }>(
    "/api/sites/:site/arrays/:array/history",
    {
      schema: schemasOf({
        summary: "What the insulation history of an array says",
        tag: "readings",
        params: arrayParams,
        answer: z.record(z.string(), z.unknown()),
      }),
    },
    async (request) => {
      const { site, array } = request.params;
      await allowed(request, parts, "see-site", site);
      const row = await parts.store.db
        .selectFrom("site")
        .select("limits_json")
        .where("id", "=", site)
        .executeTakeFirst();
      const limits =
        row === undefined ? undefined : (JSON.parse(row.limits_json) as Record<string, ArrayLimits>)[array];
      if (limits === undefined)
        throw new RequestFault("REQUEST_UNKNOWN", `Array ${array} of ${site} is not watched here.`);
      const context: HistoryContext = {
        timezone: limits.zone,
        ...(limits.insulationThreshold === null ? {} : { threshold: limits.insulationThreshold }),
        ...(limits.insulationCeiling === null ? {} : { ceilingOhms: limits.insulationCeiling.value }),
      };
      return readHistory(await storedSeries(parts, site, array, limits.zone), context);
    },
  );
}

async function storedSeries(
  { store }: DeskParts,
  site: string,
  array: string,
  zone: string,
): Promise<HistorySeries> {
  const raw = await store.db
    .selectFrom("reading")
    .select(["at", "value_number as ohms"])
    .where("site", "=", site)
    .where("array_id", "=", array)
    .where("kind", "=", "insulation")
    .where("quality", "=", "good")
    .execute();
  const days = await store.db
    .selectFrom("insulation_day")
    .select(["date", "morning_lowest_ohms", "lowest_ohms"])
    .where("site", "=", site)
    .where("array_id", "=", array)
    .execute();
  const read = raw.flatMap(({ at, ohms }) => (ohms === null ? [] : [{ at, ohms }]));
  const known = new Set(read.map(({ at }) => localTime(at, zone).date));
  const older = days
    .filter(({ date }) => !known.has(date))
    // Of a day only its lowest morning figure is kept; nine in the morning stands for when it was read.
    .map((day) => ({
      at: Date.parse(`${day.date}T09:00:00Z`) - offsetMs(day.date, zone),
      ohms: day.morning_lowest_ohms ?? day.lowest_ohms,
    }));
  return { array, readings: [...older, ...read] };
}

function offsetMs(date: string, zone: string): number {
  const noon = Date.parse(`${date}T12:00:00Z`);
  const local = localTime(noon, zone);
  return Date.parse(`${local.date}T00:00:00Z`) + local.minuteOfDay * 60_000 - noon;
}
