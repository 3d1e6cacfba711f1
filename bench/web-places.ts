/**
 * Every place of the web app that overlooks the fleet, at a desk with 20,000 sites, against the same place at a desk with 20:
 * bytes that the desk sends, its processor time and the longest that nothing else got its turn, how soon the page is of use,
 * what it costs the browser, and frames lost on a scroll. Desk and browser are processes of their own.
 * Writes bench/results/web-places.{json,md}. Needs Chromium (CHROMIUM names it).
 * Run: npm run build && npm run bench -- web-places [sites, 20000] [rounds, 3]
 */
import { chromium } from "@playwright/test";
import { writeFileSync } from "node:fs";
import { loadavg } from "node:os";
import { fileURLToPath } from "node:url";
import { type DeskProcess, serveDesk, type Spent, startDeskProcess } from "./web-places/desk-process.ts";
import { type Place, visit, type Visited } from "./web-places/in-browser.ts";

const FEW = 20;
/** Asked of the desk: nothing else waits longer for its turn; and of a page: no task is longer. [ms] */
const MOST_MS = 50;

const PLACES: readonly Place[] = [
  { name: "Now", path: "/", useful: "main section li", text: "watched" },
  { name: "Register", path: "/register", useful: ".rows [aria-rowindex='2']", scrolls: ".rows" },
  { name: "Cases", path: "/cases", useful: "main ul.index > li" },
  { name: "One case", path: "/cases/C3", useful: "main h1", text: "array" },
  { name: "One site", path: "/register/site-00003", useful: "main", text: "revision" },
  { name: "Messages", path: "/messages", useful: "main section:last-of-type ul.index > li" },
  { name: "Papers", path: "/papers", useful: "table.paper-states tbody tr" },
  { name: "Drift", path: "/drift", useful: "main ol.index > li" },
  { name: "People", path: "/people", useful: "main h1", text: "People" },
];

type Cost = Visited & Spent;
interface Line {
  readonly place: string;
  readonly few: Cost;
  readonly many: Cost;
}

if (process.argv[2] === "desk") await serveDesk(Number(process.argv[3]));
else {
  const [sites = 20_000, rounds = 3] = process.argv.slice(2).map(Number);
  await measure(sites, rounds);
}

async function measure(sites: number, rounds: number): Promise<void> {
  const few = await costsAt(FEW, rounds);
  const many = await costsAt(sites, rounds);
  const lines = PLACES.map(
    ({ name }, i): Line => ({ place: name, few: few.costs[i]!, many: many.costs[i]! }),
  );
  const about = { date: new Date().toISOString().slice(0, 10), load: loadavg()[0] ?? null, sites, rounds };
  const first = { few: few.first, many: many.first };
  const text = report({ ...about, lines, first });
  writeFileSync("bench/results/web-places.json", `${JSON.stringify({ ...about, first, lines }, null, 2)}\n`);
  writeFileSync("bench/results/web-places.md", text);
  console.log(text);
}

/** The median of some visits of each place, once the desk has read what it keeps in mind. */
async function costsAt(sites: number, rounds: number) {
  const desk = await startDeskProcess(fileURLToPath(import.meta.url), sites);
  const browser = await chromium.launch({
    executablePath: process.env["CHROMIUM"] ?? "/usr/bin/chromium",
    args: ["--no-sandbox"],
  });
  try {
    await desk.spent();
    const first = await firstRead(desk);
    const costs: Cost[] = [];
    for (const place of PLACES) {
      const visits: Cost[] = [];
      for (let round = 0; round < rounds; round++) {
        await desk.spent();
        visits.push({ ...(await visit(browser, desk, place)), ...(await desk.spent()) });
      }
      costs.push(medianOf(visits));
      console.log(sites, place.name, costs.at(-1));
    }
    return { costs, first };
  } finally {
    await browser.close();
    desk.stop();
  }
}

/** The desk reads each site file once after it starts, and works out each array's history: what that takes. */
async function firstRead({ address, token, spent }: DeskProcess): Promise<Spent> {
  const headers = { authorization: `Bearer ${token}` };
  for (const path of ["/api/sites", "/api/papers"])
    await (await fetch(`${address}${path}`, { headers })).text();
  for (let pending = 1; pending > 0; )
    ({ pending } = (await (await fetch(`${address}/api/drift`, { headers })).json()) as { pending: number });
  return spent();
}

function medianOf(visits: readonly Cost[]): Cost {
  const middle = (name: keyof Cost): number =>
    visits.map((one) => one[name]).toSorted((a, b) => a - b)[Math.floor(visits.length / 2)]!;
  const names = Object.keys(visits[0]!) as (keyof Cost)[];
  return Object.fromEntries(names.map((name) => [name, middle(name)])) as unknown as Cost;
}

interface Result {
  readonly date: string;
  readonly load: number | null;
  readonly sites: number;
  readonly rounds: number;
  readonly first: { readonly few: Spent; readonly many: Spent };
  readonly lines: readonly Line[];
}

function report({ date, load, sites, rounds, first, lines }: Result): string {
  const pair = (few: number, many: number, unit: string, digits = 0): string =>
    `${few.toFixed(digits)} → ${many.toFixed(digits)} ${unit} (× ${(many / few).toFixed(1)})`;
  const rows = lines.map(({ place, few, many }) =>
    [
      place,
      pair(few.bytes / 1000, many.bytes / 1000, "kB", 1),
      pair(few.cpuMs, many.cpuMs, "ms"),
      `${many.longestBlockMs.toFixed(0)} ms`,
      pair(few.usefulMs, many.usefulMs, "ms"),
      pair(few.pageCpuMs, many.pageCpuMs, "ms"),
      `${few.longTasks} → ${many.longTasks}, longest ${many.longestTaskMs.toFixed(0)} ms`,
      `${few.lostFrames} of ${few.frames} → ${many.lostFrames} of ${many.frames}`,
    ].join(" | "),
  );
  return `# Places that overlook ${sites} sites

Date ${date}, load of the machine ${load?.toFixed(1) ?? "not known"}, median of ${rounds} visits each. Regenerate with \`npm run build && npm run bench -- web-places\`.

Each figure stands as "at a desk with ${FEW} sites → at one with ${sites}". Answers are counted as sent, packed where the desk
packs them. "Longest turn" is the longest that nothing else got its turn at the desk; ${MOST_MS} ms is asked, of it and of every task of
a page.

| place | sent by the desk | processor time of the desk | longest turn | page of use after | processor time of the page | tasks over ${MOST_MS} ms | frames lost on a scroll |
|---|---|---|---|---|---|---|---|
${rows.map((row) => `| ${row} |`).join("\n")}

After a start the desk reads every site file once and works out every history: ${(first.few.cpuMs / 1000).toFixed(2)} s of processor time with ${FEW} sites,
${(first.many.cpuMs / 1000).toFixed(1)} s with ${sites}, the longest turn ${first.many.longestBlockMs.toFixed(0)} ms.
`;
}
