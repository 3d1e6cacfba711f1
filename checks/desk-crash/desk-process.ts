// A desk in a process of its own, to be killed: it takes commands from its input, answers on its output, and appends what it sends to a file.
import { appendFileSync } from "node:fs";
import { createInterface } from "node:readline";
import { assessSite } from "@earthbell/engine";
import type { WatchReading } from "@earthbell/model";
import { machineClock } from "../../apps/desk/src/clock.ts";
import { createOutboxWorker } from "../../apps/desk/src/outbox/index.ts";
import { openStore, type StorePlace } from "../../apps/desk/src/store/index.ts";
import type { Channel } from "../../apps/desk/src/tell/channel.ts";
import { createWatch } from "../../apps/desk/src/watch/index.ts";

/** What the desk is told, a line each. */
export type Command =
  | { readonly do: "site"; readonly site: string; readonly text: string }
  | { readonly do: "read"; readonly reading: WatchReading }
  | { readonly do: "rest" };

/** In a flood, what comes is told in groups after some seconds. */
const GATHERED_MS = 20_000;

const [place, sink, killStep, killAt] = process.argv.slice(2) as [string, string, string, string];
let passed = 0;

/** Ends this process as a loss of power would, at the step that was named, the n-th time that it comes. */
function step(name: string): void {
  if (name !== killStep) return;
  passed += 1;
  if (passed === Number(killAt)) process.kill(process.pid, "SIGKILL");
}

const say = (answer: object) => process.stdout.write(`${JSON.stringify(answer)}\n`);
const log = {
  info: () => undefined,
  warn: () => undefined,
  error: (about: object, text: string) =>
    say({ failed: text, about: String((about as { err?: unknown }).err) }),
};
const store = await openStore(JSON.parse(place) as StorePlace);
const channel: Channel = {
  kind: "email",
  send: async (envelope) => {
    await new Promise(setImmediate);
    appendFileSync(sink, `${JSON.stringify(envelope)}\n`);
    return { outcome: "accepted", reply: "250" };
  },
  close: () => Promise.resolve(),
};
const watch = createWatch({
  ...{ store, clock: machineClock, log, step },
  words: ({ about, site }) => ({ subject: about, text: site.id }),
  channels: ["email"],
  keepers: [{ person: "kim", channel: "email", address: "kim@example.org" }],
  acknowledgeAt: "https://desk.example/a/",
  linkHoldsMs: 86_400_000,
  assess: (site) => assessSite(site),
});
const worker = createOutboxWorker({
  ...{ store, clock: machineClock, log, step },
  channels: [channel],
  name: `process ${process.pid}`,
  sendMs: 100,
});
await watch.start();
const over = new AbortController();
const running = Promise.all([watch.run(over.signal), worker.run(over.signal)]);
say({ ready: true });

for await (const line of createInterface({ input: process.stdin })) {
  const command = JSON.parse(line) as Command;
  if (command.do === "site" && (await watch.putSite(command.text, "Kim")).ok) say({ put: command.site });
  // Not awaited: readings come while others are on their way in.
  if (command.do === "read")
    void watch.accept([command.reading]).then(() => say({ taken: command.reading.key }));
  if (command.do === "rest") await rest();
}
over.abort();
await running;
await watch.stop();
await store.close();

/** Until nothing waits to be told or sent. */
async function rest(): Promise<void> {
  for (;;) {
    const { nextLookAt } = await watch.look();
    const waiting = await store.db
      .selectFrom("outbox")
      .select("key")
      .where("state", "in", ["waiting", "claimed"])
      .executeTakeFirst();
    if (waiting === undefined && (nextLookAt ?? Infinity) > Date.now() + GATHERED_MS) break;
    await machineClock.pause(50, over.signal);
  }
  say({ resting: true });
}
