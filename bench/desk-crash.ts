/**
 * A desk that is killed some hundred times, on each kind of store: at every named step and at times drawn from a seed.
 * The loop and what is looked at afterwards are those of checks/desk-crash. Writes bench/results/desk-crash.{json,md}.
 *
 * Run: npm run bench -- desk-crash [lives on SQLite, 300 when left out] [lives on PostgreSQL, 300] [seed, 1]
 */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openStore } from "../apps/desk/src/store/index.ts";
import { type Harm, harmOf } from "../checks/desk-crash/after-crashes.ts";
import { crashLoop, CUTS, type LoopEnd } from "../checks/desk-crash/crash-loop.ts";
import { bundleDesk } from "../checks/desk-crash/lives.ts";
import { type Databases, postgresServer, sqliteFiles } from "../checks/desk-store/databases.ts";

const [onSqlite = 300, onPostgres = 300, seed = 1] = process.argv.slice(2).map(Number);

async function loopOn(databases: Databases, runs: number) {
  const folder = mkdtempSync(join(tmpdir(), "desk-crash-"));
  await databases.start();
  try {
    const place = await databases.fresh();
    const began = performance.now();
    const end = await crashLoop({ place, sink: join(folder, "sent.jsonl"), runs, seed });
    const minutes = (performance.now() - began) / 60_000;
    const store = await openStore(place);
    const harm = await harmOf(store, end);
    await store.close();
    return { kind: databases.kind, runs, ...figuresOf(end, harm), minutes: Number(minutes.toFixed(1)) };
  } finally {
    await databases.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

function figuresOf({ cuts, acknowledged, sites, sent, failed }: LoopEnd, harm: Harm) {
  return {
    cuts: Object.fromEntries([...new Set(CUTS)].map((cut) => [cut, cuts.get(cut) ?? 0])),
    faults: sites.length,
    readings: acknowledged.size,
    messages: sent.length,
    duplicates: sent.length - new Set(sent.map(({ key }) => key)).size,
    harm: { ...harm, failed },
  };
}

type Figures = Awaited<ReturnType<typeof loopOn>>;

function sectionOf({ kind, runs, cuts, minutes, harm, ...figures }: Figures): string {
  const { faults, readings, messages, duplicates } = figures;
  const count = Object.entries(harm).map(([what, found]) => `| ${what} | ${found.length} |`);
  return `## ${kind}: ${runs} lives in ${minutes} min

${faults} faults and ${readings} readings were acknowledged, ${messages} messages went out, ${duplicates} of them a second time under the same key.

| cut off at | lives |
|---|---|
${Object.entries(cuts)
  .map(([cut, lives]) => `| ${cut} | ${lives} |`)
  .join("\n")}

| what may not be | found |
|---|---|
${count.join("\n")}
`;
}

await bundleDesk();
const results: Figures[] = [];
if (onSqlite > 0) results.push(await loopOn(sqliteFiles(), onSqlite));
if (onPostgres > 0) results.push(await loopOn(postgresServer(), onPostgres));
const about = { date: new Date().toISOString().slice(0, 10), node: process.version, seed };
const report = `# A desk that is killed again and again

${about.date}, Node ${about.node}, seed ${seed}. Regenerate with \`npm run bench -- desk-crash\`.

Each life is a process that is ended by SIGKILL: at a step, at its first to third passing, or at a time within its first
seconds that the seed draws. A life that did not come to its step counts for none. Lost are readings that were
acknowledged and are not stored; untold is who was told of a fault by no message that went out.

${results.map(sectionOf).join("\n")}`;
writeFileSync("bench/results/desk-crash.json", `${JSON.stringify({ ...about, results }, null, 1)}\n`);
writeFileSync("bench/results/desk-crash.md", report);
process.stdout.write(report);
