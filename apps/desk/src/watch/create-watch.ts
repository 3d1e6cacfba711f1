import { WATCH_LIMITS, type WatchReading } from "@earthbell/model";
import { acceptTogether } from "./accept-queue.ts";
import { relightBeacons } from "./beacons.ts";
import type { Draft } from "./draft.ts";
import { isFloodNow } from "./flood.ts";
import { redeemLink, viewLink } from "./link-steps.ts";
import { lookAtSites } from "./look-at-sites.ts";
import { Looker } from "./look.ts";
import { once } from "./once.ts";
import { mendWay, planDrill, putLadder, startPathDrill } from "./path-steps.ts";
import { acknowledge, seeBeacon, stepAlarm, stepCase } from "./person-steps.ts";
import { putSite, readFile, removeSite } from "./put-site.ts";
import { rehearse } from "./rehearse.ts";
import { Rooms } from "./rooms.ts";
import { startUp, writeMark } from "./start-up.ts";
import { noteHappening } from "./draft.ts";
import { type Outcome, takeReadings } from "./take-readings.ts";
import type { Answer, Request, Watch, WatchOptions } from "./watch.ts";

/** Makes the watch of one store. There is one watch of a store at a time; a second one is noticed, and costs time. */
export function createWatch(options: WatchOptions): Watch {
  const { store, clock } = options;
  const rooms = new Rooms(store, options.limits ?? (() => WATCH_LIMITS), options.wroteMessages);
  const looker = new Looker(rooms, options, options);
  const forget = (site: string): void => {
    rooms.forgetSite(site);
  };
  const write = <Result>(work: (draft: Draft) => Promise<Result>): Promise<Result> =>
    rooms.write(clock.now(), async (draft) => {
      const result = await work(draft);
      await tellOfChanges(draft, options);
      return result;
    });
  const step = <More>(
    request: Request | undefined,
    work: (draft: Draft) => Promise<Answer<More>>,
  ): Promise<Answer<More>> => write((draft) => once(draft, request ?? {}, () => work(draft)));

  return {
    accept: acceptTogether((batches) => takeBatches(rooms, options, batches)),
    rehearse: (readings, by) =>
      write((draft) => rehearse(draft, readings, by, { bulk: store.bulk, telling: options })),
    start: () => rooms.write(clock.now(), (draft) => startUp(draft, options)),
    look: () => looker.look(),
    run: (signal) => looker.run(signal),
    stop: () => rooms.write(clock.now(), stopInOrder),
    putSite: async (text, by) => {
      const read = readFile(text, by);
      if (!read.ok) return read;
      return write((draft) =>
        putSite(draft, read.file, { assess: options.assess, bulk: store.bulk, forget }),
      );
    },
    removeSite: (site, by) => write((draft) => removeSite(draft, site, by, forget, options.beacons ?? [])),
    relight: () => write((draft) => relightBeacons(draft, options.beacons ?? [])),
    putLadder: (site, path, rungs, by) => write((draft) => putLadder(draft, { site, path }, rungs, by)),
    mendWay: (way, by) => write((draft) => mendWay(draft, way, by)),
    stepAlarm: (alarm, event, request) => step(request, (draft) => stepAlarm(draft, alarm, event)),
    acknowledge: (matter, by, request) => step(request, (draft) => acknowledge(draft, matter, by, options)),
    stepCase: (fault, event, request) => step(request, (draft) => stepCase(draft, fault, event)),
    startDrill: (site, path, by, request) =>
      step(request, (draft) => startPathDrill(draft, { site, path }, by, options)),
    seeBeacon: (drill, seen, request) => step(request, (draft) => seeBeacon(draft, drill, seen, options)),
    planDrill: (site, path, at, by) => write((draft) => planDrill(draft, { site, path }, at, by)),
    openLink: (token) => viewLink(store.db, token, clock.now()),
    redeemLink: (token) => write((draft) => redeemLink(draft, token, options)),
  };
}

async function tellOfChanges(draft: Draft, options: WatchOptions): Promise<void> {
  const changed = [...draft.sites.values()].filter((site) => site.changed);
  if (changed.length > 0) await lookAtSites(draft, changed, options);
}

async function takeBatches(
  rooms: Rooms,
  options: WatchOptions,
  batches: readonly (readonly WatchReading[])[],
): Promise<readonly (readonly Outcome[])[]> {
  const step = options.step ?? (() => undefined);
  const outcomes = await rooms.write(
    options.clock.now(),
    async (draft) => {
      step("accept-begun");
      const taken = await takeReadings(draft, options.store.bulk, batches.flat(), step);
      step("accept-detected");
      const changed = [...draft.sites.values()].filter((site) => site.changed);
      if (changed.length > 0)
        await lookAtSites(draft, changed, options, { gathers: await isFloodNow(draft) });
      return taken;
    },
    () => {
      step("accept-written");
    },
  );
  step("accept-stored");
  let from = 0;
  return batches.map((batch) => outcomes.slice(from, (from += batch.length)));
}

async function stopInOrder(draft: Draft): Promise<void> {
  await writeMark(draft.tx, "stopped", 1);
  await writeMark(draft.tx, "heartbeat", draft.now);
  noteHappening(draft, {
    kind: "watch",
    site: null,
    subject: "stop",
    by: null,
    text: "The watch was stopped in order.",
  });
}
