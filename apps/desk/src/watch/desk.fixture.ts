import { assessSite } from "@earthbell/engine";
import type { Accepted } from "../listen/accept.ts";
import type { Clock } from "../clock.ts";
import { createOutboxWorker, type OutboxWorker } from "../outbox/index.ts";
import { type DeskStore, openStore } from "../store/index.ts";
import type { Channel, Envelope, SendOutcome } from "../tell/channel.ts";
import type { Occasion, Words } from "../tell/words/occasion.ts";
import { createWatch } from "./create-watch.ts";
import type { Watch, WatchOptions } from "./watch.ts";
import type { ReadingKind, WatchReading } from "@earthbell/model";

/** Monday, 1 June 2026, 05:12 UTC: 15:12 in Melbourne. */
export const T = Date.UTC(2026, 5, 1, 5, 12);
export const MINUTE = 60_000;
export const HOUR = 60 * MINUTE;
export const DAY = 24 * HOUR;

/** A pause that nothing but the end of what waits ends. */
export const pauseToTheEnd: Clock["pause"] = (_, signal) =>
  new Promise((resolve) => {
    if (signal.aborted) resolve();
    signal.addEventListener("abort", () => {
      resolve();
    });
  });

/** A clock that stands still until it is moved. */
export interface HandClock extends Clock {
  at: number;
}

function handClock(at = T): HandClock {
  const clock: HandClock = {
    at,
    now: () => clock.at,
    pause: pauseToTheEnd,
  };
  return clock;
}

/** An invented dairy: one inverter, one array, an owner and somebody on call. */
export function siteText(id = "tarn", more = ""): string {
  return `format: earthbell.site/1
site:
  id: ${id}
  name: Tarn dairy
  place: {country: AU, region: VIC, timezone: Australia/Melbourne, latitude: -37.8, longitude: 145}
  lowestTemperature: -2 °C
modules:
  - {id: M1, technology: crystalline-silicon, pmax: 400 W, voc: 49 V, isc: 11 A, vocTemperatureCoefficient: -0.28 %/K, area: 1.9 m2}
inverters:
  - {id: INV1, ratedPower: 10 kVA, separation: none, kind: string, insulationCheck: {threshold: 40 kohm, at: [start]}}
arrays:
  - {id: A1, inverter: INV1, module: M1, installed: 2020-06-30, earthing: floating, mounting: building, strings: [{id: S1, modules: 14}]}
people:
  - {id: ann, role: owner, address: {email: ann@example.org}}
  - {id: ben, role: service, address: {email: ben@example.org, phone: "+61 3 5550 0100"}}
paths:
  - {id: P1, arrays: [A1], signal: message, to: [ann], repeatEvery: 60 min, link: {supervisedEvery: 1 d}}
${more}`;
}

const plainWords: Words = (occasion: Occasion) => ({
  subject: `${occasion.about} ${occasion.site.id}`,
  text: JSON.stringify(occasion),
});

export interface SmallDesk {
  readonly store: DeskStore;
  readonly clock: HandClock;
  readonly watch: Watch;
  /** What was handed over, in order. */
  readonly sent: readonly Envelope[];
  /** Sends everything that is due. */
  deliver(): Promise<void>;
  read(kind: ReadingKind, value: WatchReading["value"], more?: Partial<WatchReading>): Promise<Accepted>;
  /** Looks at every stored instant on the way. */
  wait(ms: number): Promise<void>;
}

export type Answers = (envelope: Envelope) => SendOutcome;

function channelsFor(sent: Envelope[], answer: Answers): readonly Channel[] {
  return (["email", "sms"] as const).map((kind) => ({
    kind,
    send: (envelope) => {
      const outcome = answer(envelope);
      if (outcome.outcome === "accepted") sent.push(envelope);
      return Promise.resolve(outcome);
    },
    close: () => Promise.resolve(),
  }));
}

const accepts: Answers = () => ({ outcome: "accepted", reply: "250 taken" });

export async function smallDesk(
  change: Partial<WatchOptions> = {},
  answer: Answers = accepts,
): Promise<SmallDesk> {
  const store = change.store ?? (await openStore({ kind: "sqlite", file: ":memory:" }));
  const clock = handClock();
  const silent = () => undefined;
  const log = { info: silent, warn: silent, error: silent };
  const sent: Envelope[] = [];
  const watch = createWatch({
    store,
    clock,
    log,
    words: plainWords,
    channels: ["email"],
    keepers: [{ person: "kim", channel: "email", address: "kim@example.org" }],
    acknowledgeAt: "https://desk.example/a/",
    linkHoldsMs: 7 * DAY,
    assess: (site) => assessSite(site),
    ...change,
  });
  const worker = createOutboxWorker({
    store,
    clock,
    log,
    channels: channelsFor(sent, answer),
    name: "hand",
    atOnce: 1,
  });
  let count = 0;
  const desk: SmallDesk = {
    store,
    clock,
    watch,
    sent,
    deliver: async () => {
      await worker.sendDue();
    },
    read: (kind, value, more = {}) => {
      count += 1;
      return watch.accept([readingOf(kind, value, { at: clock.at, key: `reading ${count}`, ...more })]);
    },
    wait: (ms) => waitUntil(clock.at + ms, { watch, worker, clock }),
  };
  return desk;
}

async function waitUntil(
  end: number,
  { watch, worker, clock }: Pick<SmallDesk, "watch" | "clock"> & { readonly worker: OutboxWorker },
): Promise<void> {
  for (;;) {
    // What is handed over may be followed by more to tell at once.
    do await watch.look();
    while ((await worker.sendDue()) > 0);
    const { nextLookAt } = await watch.look();
    if (nextLookAt === null || nextLookAt > end) break;
    clock.at = Math.max(clock.at + 1, nextLookAt);
  }
  clock.at = end;
}

export function readingOf(
  kind: ReadingKind,
  value: WatchReading["value"],
  more: Partial<WatchReading> & Pick<WatchReading, "at" | "key">,
): WatchReading {
  const units = {
    "earth-fault-bit": "bit",
    insulation: "ohm",
    "residual-trip": "bit",
    "residual-current": "ampere",
    "device-state": "word",
    heartbeat: "none",
  } as const;
  return {
    site: "tarn",
    device: "INV1",
    kind,
    value,
    unit: units[kind],
    quality: "good",
    source: "test",
    ...more,
  };
}
