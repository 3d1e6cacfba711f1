/**
 * How fast a desk takes readings in, against inserting the same rows into the same table with nothing else done to them:
 * same disk, same durability (WAL, synchronous=FULL), same pragmas, same number of rows in a transaction, in turns within one
 * run.
 *
 * Every reading of the worst case is new and is kept; each goes through check, idempotency, detectors, last-known table and
 * daily insulation. The ordinary case is what a device says in ordinary times: mostly bits that say again what they said.
 *
 * Run: npm run bench -- desk-ingest [rows of a round, 10000]
 */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import Database from "better-sqlite3";
import { assessSite } from "@earthbell/engine";
import type { WatchReading } from "@earthbell/model";
import { machineClock } from "../apps/desk/src/clock.ts";
import { openStore } from "../apps/desk/src/store/index.ts";
import { createWatch, type Watch } from "../apps/desk/src/watch/index.ts";
import { readingOf, siteText } from "../apps/desk/src/watch/desk.fixture.ts";

const SITES = 100;
const ROUNDS = 7;
const ROWS_OF_ROUND = Number(process.argv[2] ?? 10_000);
/** As a desk runs for years, what it is after its first minute counts. */
const ROUNDS_OF_WARMTH = 2;
const SIZES = [25, 100, 500];

const folder = mkdtempSync(join(tmpdir(), "desk-ingest-"));
const silent = () => undefined;
let count = 0;
/** Readings of one device follow one another in time, whatever the clock of this machine does meanwhile. */
let at = Date.now() - 3_600_000;

async function newWatch(): Promise<{ readonly watch: Watch; readonly close: () => Promise<void> }> {
  count += 1;
  const store = await openStore({ kind: "sqlite", file: join(folder, `desk-${count}.db`) });
  const watch = createWatch({
    ...{ store, clock: machineClock, log: { info: silent, warn: silent, error: silent } },
    words: ({ about }) => ({ subject: about, text: about }),
    ...{
      channels: ["email"],
      keepers: [],
      acknowledgeAt: "https://desk.example/a/",
      linkHoldsMs: 86_400_000,
    },
    assess: (site) => assessSite(site),
  });
  await watch.start();
  for (let n = 0; n < SITES; n++) await watch.putSite(siteText(`site-${n}`), "bench");
  return { watch, close: () => store.close() };
}

type Case = "worst" | "ordinary";

function batch(size: number, which: Case): WatchReading[] {
  return Array.from({ length: size }, (_, n) => {
    count += 1;
    at += 1;
    const more = { site: `site-${n % SITES}`, at, key: `reading ${count}` };
    if (which === "worst" || n % 5 === 0) return readingOf("insulation", 1e6 + (count % 1000), more);
    return n % 5 === 1 ? readingOf("heartbeat", true, more) : readingOf("earth-fault-bit", false, more);
  });
}

function bareTable(): {
  readonly insert: (readings: readonly WatchReading[]) => void;
  readonly close: () => void;
} {
  count += 1;
  const db = new Database(join(folder, `bare-${count}.db`));
  db.pragma("journal_mode = WAL");
  db.pragma("synchronous = FULL");
  db.pragma("wal_autocheckpoint = 4000");
  db.exec(`create table reading (site text not null, array_id text not null, device text not null, source text not null,
    kind text not null, at bigint not null, value_number double precision, value_word text, quality text not null,
    key text not null, received_at bigint not null, constraint reading_key primary key (key));
    create index reading_by_site_at on reading (site, at); create index reading_by_received_at on reading (received_at)`);
  const statement = db.prepare("insert into reading values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
  const insert = db.transaction((readings: readonly WatchReading[]) => {
    for (const { site, device, source, kind, at: readAt, value, quality, key } of readings)
      statement.run(site, "", device, source, kind, readAt, Number(value), null, quality, key, readAt);
  });
  return { insert, close: () => db.close() };
}

async function seconds(work: () => Promise<void> | void): Promise<number> {
  const from = process.hrtime.bigint();
  await work();
  return Number(process.hrtime.bigint() - from) / 1e9;
}

function median(values: readonly number[]): number {
  return values.toSorted((one, other) => one - other)[Math.floor(values.length / 2)]!;
}

async function compare(size: number, which: Case) {
  const { watch, close } = await newWatch();
  const bare = bareTable();
  const rates = { desk: [] as number[], bare: [] as number[], ratio: [] as number[] };
  const batches = ROWS_OF_ROUND / size;
  for (let round = 0; round < ROUNDS_OF_WARMTH + ROUNDS; round++) {
    const ours = Array.from({ length: batches }, () => batch(size, which));
    const theirs = Array.from({ length: batches }, () => batch(size, which));
    const rows = ROWS_OF_ROUND;
    const deskS = await seconds(async () => {
      for (const readings of ours) await watch.accept(readings);
    });
    const bareS = await seconds(() => {
      for (const readings of theirs) bare.insert(readings);
    });
    if (round < ROUNDS_OF_WARMTH) continue;
    rates.desk.push(rows / deskS);
    rates.bare.push(rows / bareS);
    rates.ratio.push(bareS / deskS);
  }
  await close();
  bare.close();
  const [desk, plain] = [Math.round(median(rates.desk)), Math.round(median(rates.bare))];
  return {
    case: which,
    size,
    deskPerS: desk,
    barePerS: plain,
    ratio: Number(median(rates.ratio).toFixed(2)),
  };
}

const results = [];
for (const which of ["worst", "ordinary"] as const)
  for (const size of SIZES) results.push(await compare(size, which));
rmSync(folder, { recursive: true, force: true });
console.table(results);
const about = {
  date: new Date().toISOString().slice(0, 10),
  node: process.version,
  rowsOfRound: ROWS_OF_ROUND,
  // Processes that wanted a processor meanwhile: beside others, every figure is too low, and the ratio is unsure.
  loadOfMachine: loadavg().map((load) => Number(load.toFixed(1))),
};
writeFileSync("bench/results/desk-ingest.json", `${JSON.stringify({ ...about, results }, null, 1)}\n`);
