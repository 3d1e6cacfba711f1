import { assessSite, BUILT_IN_PACKS } from "@earthbell/engine";
import { build } from "esbuild";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { machineClock as clock } from "../../apps/desk/src/clock.ts";
import { createSiteJudge } from "../../apps/desk/src/judge/judge-sites.ts";
import { judging } from "../../apps/desk/src/judge/judging.ts";
import { createBell, createOutboxWorker } from "../../apps/desk/src/outbox/index.ts";
import { type DeskStore, openStore } from "../../apps/desk/src/store/index.ts";
import type { Channel } from "../../apps/desk/src/tell/channel.ts";
import { smtpChannel } from "../../apps/desk/src/tell/smtp/smtp-channel.ts";
import { wordsFor } from "../../apps/desk/src/tell/words/words.ts";
import { createWatch } from "../../apps/desk/src/watch/index.ts";

export const quiet = {
  info: () => undefined,
  warn: () => undefined,
  error: (about: object, text: string) => {
    console.error(text, about);
  },
};

/** A site file of one array and two people. */
function fileOf(site: string, desk: string): string {
  return `format: earthbell.site/1
site: {id: ${site}, place: {country: AU, region: VIC, timezone: Australia/Melbourne, latitude: -40, longitude: 160}, lowestTemperature: -3 °C}
modules: [{id: M1, technology: crystalline-silicon, pmax: 260 W, voc: 38.0 V, area: 1.63 m2}]
inverters: [{id: INV1, ratedPower: 10 kVA, separation: none, insulationCheck: {threshold: 30 kΩ, at: [start]}}]
arrays: [{id: A1, inverter: INV1, module: M1, installed: 2019-04-20, earthing: floating, mounting: building, strings: [{id: S1, modules: 13}]}]
people:
  - {id: owner, role: owner, address: {email: ${site}@example.net}}
  - {id: desk, role: service, address: {email: ${desk}@example.org}}
paths: [{id: P1, arrays: [A1], signal: message, to: [owner, desk], repeatEvery: 60 min, link: {availability: 0.98, meanOutage: 9 h, supervisedEvery: 24 h}}]
`;
}

/** A channel that notes when each message was taken: by site, person and key. */
function noted(channel: Channel): { readonly channel: Channel; readonly taken: Map<string, number> } {
  const taken = new Map<string, number>();
  const send: Channel["send"] = async (envelope, signal) => {
    const outcome = await channel.send(envelope, signal);
    const name = `${envelope.site} ${envelope.person} ${envelope.key}`;
    if (outcome.outcome === "accepted" && !taken.has(name)) taken.set(name, performance.now());
    return outcome;
  };
  return { channel: { ...channel, send }, taken };
}

/** Sites are judged in a thread meanwhile, as in a desk that was built. */
async function judgeOf(folder: string, store: DeskStore) {
  const outfile = join(folder, "judge-worker.mjs");
  const entryPoints = ["apps/desk/src/judge/judge-worker.ts"];
  await build({ entryPoints, outfile, bundle: true, platform: "node", format: "esm" });
  const packs = () => BUILT_IN_PACKS;
  return createSiteJudge({ store, clock, log: quiet, packs, judging: judging(pathToFileURL(outfile)) });
}

/** A desk whose mail goes to the server, with a note of when each message was taken by it. */
export async function furnish(
  folder: string,
  sites: readonly string[],
  mailPort: number,
  { atOnce, deskOf }: { readonly atOnce: number; readonly deskOf: (site: string) => string },
) {
  const store = await openStore({ kind: "sqlite", file: join(folder, "desk.db") });
  const bell = createBell(clock);
  const watch = createWatch({
    store,
    wroteMessages: bell.ring,
    clock,
    log: quiet,
    words: wordsFor,
    channels: ["email"],
    keepers: [],
    acknowledgeAt: "https://desk.example.org/a/",
    linkHoldsMs: 86_400_000,
    assess: (site) => assessSite(site, { onDate: "2026-11-25" }),
  });
  await watch.start();
  for (const site of sites) {
    const put = await watch.putSite(fileOf(site, deskOf(site)), "bench");
    if (!put.ok) throw new Error(JSON.stringify(put.faults[0]));
  }
  const mail = smtpChannel(
    { host: "127.0.0.1", port: mailPort, security: "none", from: "watch@example.org", connections: atOnce },
    clock,
  );
  const { channel: noting, taken } = noted(mail);
  const judge = await judgeOf(folder, store);
  const stop = new AbortController();
  const working = Promise.all([
    createOutboxWorker({ store, clock, log: quiet, channels: [noting], bell, name: "bench", atOnce }).run(
      stop.signal,
    ),
    watch.run(stop.signal),
    judge.run(stop.signal),
  ]);
  const close = async (): Promise<void> => {
    stop.abort();
    await working;
    await mail.close();
    await store.close();
  };
  return { store, watch, taken, standing: judge.standing, close };
}
