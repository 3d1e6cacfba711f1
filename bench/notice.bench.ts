/**
 * Processor time that the time to notice takes, beside ten million multiply-adds on the same machine at the same moment.
 *
 * Run by hand from the project's folder:
 *   npx esbuild bench/notice.bench.ts --bundle --platform=node --format=esm | node --input-type=module
 * Goals: a year of onsets for a site with three paths and four people in 50 ms; 10,000 sites in 60 s on two cores, which
 * is 12 ms of one core a site.
 */
import { type NoticeModel, timeToNotice } from "@earthbell/engine";

const RUNS = 25;
const FLEET = 200;

function leastMs(work: () => void, runs = RUNS): number {
  let least = Infinity;
  for (let run = 0; run < runs; run++) {
    // Processor time, so that a busy machine does not count against it.
    const begin = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(begin);
    least = Math.min(least, (user + system) / 1000);
  }
  return least;
}

const values = new Float64Array(1000).fill(0.999);
let sink = 0;
function tenMillionMultiplyAdds(): void {
  for (let round = 0; round < 10_000; round++) {
    let sum = 0;
    for (let i = 0; i < values.length; i++) sum += values[i]! * 0.5;
    sink += sum;
  }
}

/** Park and Miller's generator: the same fleet each time. */
function generator(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
}

const every = (days: readonly number[], from: number, to: number): NoticeModel["readers"][number]["hours"] =>
  days.map((day) => ({ fromMinute: day * 1440 + from * 60, toMinute: day * 1440 + to * 60 }));
const WEEK = [0, 1, 2, 3, 4, 5, 6];
const WORK = [0, 1, 2, 3, 4];
const ZONES = ["Australia/Melbourne", "Europe/Berlin", "America/Denver", "Pacific/Auckland", "Asia/Kolkata"];

function site(random: () => number, continuous: boolean): NoticeModel {
  const reader = (
    id: string,
    days: readonly number[],
    from: number,
    to: number,
  ): NoticeModel["readers"][number] => ({
    id,
    hours: every(days, from, to),
    looksPerMinute: (0.2 + 2 * random()) / 60,
    away: [],
  });
  return {
    latitudeDeg: 100 * random() - 50,
    longitudeDeg: 360 * random() - 180,
    timezone: ZONES[Math.floor(random() * ZONES.length)]!,
    yearFrom: "2026-01-01",
    onset: { dawnWetShare: 0.4, daylightShare: 0.3, dewBeforeSunriseMin: 180, dewAfterSunriseMin: 60 },
    detector: { atStart: true, continuous, residualShare: 0, startAfterSunriseMin: 20 },
    links: [{ id: "net", availability: 0.95 + 0.05 * random(), meanOutageMin: 600 }],
    readers: [
      reader("a", WEEK, 6, 21),
      reader("b", WORK, 7, 17),
      reader("c", WORK, 8, 17),
      reader("d", WEEK, 8, 17),
    ],
    channels: [
      {
        signal: "message",
        id: "m",
        link: "net",
        readers: ["a", "b", "c", "d"],
        repeatMin: 60,
        supervisedMin: 1440,
        checkAfterSilenceMin: 1440,
        neverHeeds: 0.05,
      },
      { signal: "annunciator", id: "s", hours: every(WEEK, 5, 10), noticesPerMinute: 0.1, dead: 0.05 },
      { signal: "indicator", id: "l", hours: every(WEEK, 7, 19), noticesPerMinute: 0.005, dead: 0 },
    ],
    siteEmpty: { share: 0.04, lengthMin: 10_080 },
    unaware: 0.05,
  };
}

const random = generator(11);
const one = site(random, false);
const watched = site(random, true);
const fleet = Array.from({ length: FLEET }, () => site(random, random() < 0.2));

const reference = leastMs(tenMillionMultiplyAdds);
const show = (name: string, ms: number, goalMs: number): void => {
  console.log(
    `${name}: ${ms.toFixed(1)} ms, ${(ms / reference).toFixed(1)} times the reference; goal ${goalMs} ms`,
  );
};
console.log(`reference, ten million multiply-adds: ${reference.toFixed(1)} ms`);
show(
  "a year of onsets, start check",
  leastMs(() => timeToNotice(one)),
  50,
);
show(
  "a year of onsets, continuous check",
  leastMs(() => timeToNotice(watched)),
  50,
);
show(
  "a year of onsets, every day",
  leastMs(() => timeToNotice(one, { everyDays: 1 })),
  50,
);
const fleetMs = leastMs(() => {
  for (const model of fleet) timeToNotice(model, { everyDays: 8 });
}, 3);
show(`one site of a fleet of ${FLEET}, one in five continuous, every eighth day`, fleetMs / FLEET, 12);
console.log(`so 10,000 sites on two cores: ${((fleetMs / FLEET) * 5).toFixed(0)} s; goal 60 s`);
if (!Number.isFinite(sink)) throw new Error("the reference overflowed");
