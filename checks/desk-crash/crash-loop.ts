import { readFileSync } from "node:fs";
import { seededRandom } from "@earthbell/engine";
import type { WatchReading } from "@earthbell/model";
import type { StorePlace } from "../../apps/desk/src/store/index.ts";
import type { Envelope } from "../../apps/desk/src/tell/channel.ts";
import { readingOf, siteText } from "../../apps/desk/src/watch/desk.fixture.ts";
import { begin, type Life } from "./lives.ts";

/** Where lives are cut off, in turn. A time that nobody chose comes more often than each step. */
export const CUTS = [
  "accept-begun",
  "any-time",
  "accept-readings",
  "accept-detected",
  "accept-written",
  "any-time",
  "accept-stored",
  "outbox-claimed",
  "outbox-sent",
  "any-time",
  "outbox-written",
  "outbox-recorded",
] as const;
export type Cut = (typeof CUTS)[number];

/** A life whose step does not come is cut off all the same, and does not count for that step. */
const LATE_MS = 8000;
/** A desk has started, heard and told long before this. */
const LONGEST_LIFE_MS = 1500;

export interface LoopOptions {
  readonly place: StorePlace;
  /** The file that stands for the mail server. */
  readonly sink: string;
  readonly runs: number;
  readonly seed: number;
}

/** What a desk has answered and sent over all its lives. */
export interface LoopEnd {
  /** How often a life was cut off there. */
  readonly cuts: ReadonlyMap<Cut, number>;
  /** Keys of the readings that it said it took. */
  readonly acknowledged: ReadonlySet<string>;
  /** Sites whose fault it said it took. */
  readonly sites: readonly string[];
  /** In the order in which it was sent; what was sent twice is there twice. */
  readonly sent: readonly Envelope[];
  /** What the last life, which nobody cut off, could not do. */
  readonly failed: readonly unknown[];
}

/** Somebody who puts site files in and a device that reads, both of whom go on until the desk has said that it took it. */
class Outside {
  readonly files = new Map<string, string>();
  readonly readings = new Map<string, WatchReading>();
  readonly acknowledged = new Set<string>();

  hear({ answers }: Life): void {
    for (const { put, taken } of answers) {
      if (typeof put === "string") this.files.delete(put);
      if (typeof taken !== "string") continue;
      this.acknowledged.add(taken);
      this.readings.delete(taken);
    }
  }

  tellAll(life: Life): void {
    for (const [site, text] of this.files) life.tell({ do: "site", site, text });
    for (const reading of this.readings.values()) life.tell({ do: "read", reading });
  }

  hasMore(): boolean {
    return this.files.size + this.readings.size > 0;
  }
}

/** Lets the desk live and be cut off so many times, then once until nothing is left to do. */
export async function crashLoop(options: LoopOptions): Promise<LoopEnd> {
  const outside = new Outside();
  const random = seededRandom(options.seed);
  const cuts = new Map<Cut, number>();
  for (let run = 0; run < options.runs; run++) {
    const cut = CUTS[run % CUTS.length]!;
    const passing = 1 + (Math.floor(run / CUTS.length) % 3);
    const life = begin(options.place, options.sink, cut, passing);
    const site = `site-${run}`;
    outside.files.set(site, siteText(site).replace("to: [ann]", "to: [ann, ben]"));
    for (const reading of faultsOf(site)) outside.readings.set(reading.key, reading);
    const afterMs = cut === "any-time" ? random.uniform() * LONGEST_LIFE_MS : null;
    const wasCut = await live(life, outside, afterMs);
    if (wasCut) cuts.set(cut, (cuts.get(cut) ?? 0) + 1);
  }
  const failed = await lastLife(options, outside);
  const lines = readFileSync(options.sink, "utf8").trim().split("\n");
  const bits = [...outside.acknowledged].filter((key) => key.endsWith(" bit"));
  return {
    cuts,
    acknowledged: outside.acknowledged,
    sites: bits.map((key) => key.split(" ")[0]!),
    sent: lines.map((line) => JSON.parse(line) as Envelope),
    failed,
  };
}

/**
 * One life: everything that was not acknowledged before, and a new site with a fault.
 *
 * @param afterMs  when to cut it off; null where it ends by itself at a step
 * @returns whether it was cut off where it was to be
 */
async function live(life: Life, outside: Outside, afterMs: number | null): Promise<boolean> {
  const kill = (): void => {
    life.kill();
  };
  const bySurprise = afterMs === null ? undefined : setTimeout(kill, afterMs);
  await life.heard("ready");
  const from = performance.now();
  const late = setTimeout(kill, LATE_MS);
  outside.tellAll(life);
  await life.ended;
  clearTimeout(late);
  clearTimeout(bySurprise);
  outside.hear(life);
  return performance.now() - from < LATE_MS;
}

function faultsOf(site: string): readonly WatchReading[] {
  const at = Date.now();
  return [
    readingOf("earth-fault-bit", true, { site, at, key: `${site} bit` }),
    readingOf("insulation", 9000, { site, at, key: `${site} low` }),
    readingOf("insulation", 8000, { site, at: at + 1, key: `${site} lower` }),
  ];
}

async function lastLife({ place, sink }: LoopOptions, outside: Outside): Promise<readonly unknown[]> {
  const life = begin(place, sink, "none", 0);
  await life.heard("ready");
  outside.tellAll(life);
  while (outside.hasMore() && life.isAlive()) {
    await new Promise((resolve) => setTimeout(resolve, 20));
    outside.hear(life);
  }
  life.tell({ do: "rest" });
  await life.heard("resting");
  life.stop();
  const how = await life.ended;
  return [...life.answers.filter(({ failed }) => failed !== undefined), ...(how === "stopped" ? [] : [how])];
}
