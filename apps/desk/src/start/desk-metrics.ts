import type { SelectQueryBuilder } from "kysely";
import { Counter, collectDefaultMetrics, Gauge, Registry, type OpenMetricsContentType } from "prom-client";
import type { Accept, Listener } from "../listen/accept.ts";
import type { Clock } from "../clock.ts";
import type { DeskStore, DeskTables } from "../store/index.ts";

type Metrics = Registry<OpenMetricsContentType>;

/** The desk in numbers, in the OpenMetrics text format. No names of sites or people are in it. */
export function deskMetrics(store: DeskStore, clock: Clock, listeners: () => readonly Listener[]): Metrics {
  const registry = new Registry() as unknown as Metrics;
  registry.setContentType(Registry.OPENMETRICS_CONTENT_TYPE);
  collectDefaultMetrics({ register: registry });
  countFaults(store, [registry]);
  countMessages(store, clock, [registry]);
  countDeafness(store, listeners, [registry]);
  return registry;
}

function countFaults(store: DeskStore, registers: Metrics[]): void {
  new Gauge({
    name: "earthbell_cases_open",
    help: "Cases that nobody has closed",
    registers,
    async collect() {
      this.set(await countOf(store.db.selectFrom("fault_case").where("closed_at", "is", null)));
    },
  });
  new Gauge({
    name: "earthbell_alarms_active",
    help: "Alarms that are active, by their sign",
    labelNames: ["sign"],
    registers,
    async collect() {
      this.reset();
      const rows = await store.db
        .selectFrom("alarm")
        .select((of) => ["sign", of.fn.countAll<number>().as("count")])
        .where("condition", "=", "active")
        .groupBy("sign")
        .execute();
      for (const { sign, count } of rows) this.set({ sign }, count);
    },
  });
}

function countMessages(store: DeskStore, clock: Clock, registers: Metrics[]): void {
  new Gauge({
    name: "earthbell_messages",
    help: "Messages in the outbox that are not finished, by state",
    labelNames: ["state"],
    registers,
    async collect() {
      for (const state of ["waiting", "claimed"] as const)
        this.set({ state }, await countOf(store.db.selectFrom("outbox").where("state", "=", state)));
    },
  });
  new Gauge({
    name: "earthbell_message_oldest_seconds",
    help: "Age of the oldest message that is due and not handed over",
    registers,
    async collect() {
      const row = await store.db
        .selectFrom("outbox")
        .select((of) => of.fn.min<number | null>("written_at").as("oldest"))
        .where("state", "in", ["waiting", "claimed"])
        .where("due_at", "<=", clock.now())
        .executeTakeFirst();
      this.set(row?.oldest == null ? 0 : Math.max(0, (clock.now() - row.oldest) / 1000));
    },
  });
}

function countDeafness(store: DeskStore, listeners: () => readonly Listener[], registers: Metrics[]): void {
  new Gauge({
    name: "earthbell_paths_silent",
    help: "Paths whose sign of life is overdue",
    registers,
    async collect() {
      this.set(await countOf(store.db.selectFrom("path_watch").where("silent", "=", 1)));
    },
  });
  new Gauge({
    name: "earthbell_unheard",
    help: "Devices, topics or files that a listener cannot hear, by listener",
    labelNames: ["listener"],
    registers,
    collect() {
      for (const listener of listeners()) this.set({ listener: listener.name }, listener.health().unheard);
    },
  });
}

async function countOf<Table extends keyof DeskTables>(
  query: SelectQueryBuilder<DeskTables, Table, object>,
): Promise<number> {
  const { count } = await query
    .select(({ fn }) => fn.countAll<number>().as("count"))
    .executeTakeFirstOrThrow();
  return count;
}

/** Counts what the way into the desk takes. */
export function countingAccept(accept: Accept, registry: Metrics): Accept {
  const readings = new Counter({
    name: "earthbell_readings",
    help: "Readings that arrived: taken in, known before, or set aside",
    labelNames: ["what"],
    registers: [registry],
  });
  return async (batch) => {
    const accepted = await accept(batch);
    readings.inc({ what: "taken" }, accepted.taken);
    readings.inc({ what: "known" }, accepted.known);
    readings.inc({ what: "set-aside" }, accepted.setAside.length);
    return accepted;
  };
}
