import { join } from "node:path";
import type { DeskSettings } from "@earthbell/model";
import type { Clock } from "../clock.ts";
import type { DriftReader } from "../drift/drift-reader.ts";
import type { SiteJudge } from "../judge/judge-sites.ts";
import type { Log } from "../log.ts";
import { type Bell, createOutboxWorker } from "../outbox/index.ts";
import type { DeskStore } from "../store/index.ts";
import type { Channel } from "../tell/channel.ts";
import type { Watch } from "../watch/index.ts";
import { longestAttemptMs } from "./channels-of.ts";
import { runDeadMan } from "./dead-man.ts";

/** The watch looks at least this often; past it, it does no longer work. */
const AT_WORK_MS = 5 * 60_000;
/** Sending one message may take this long, or longer than its channel's own timeout by the second. */
const LEAST_SEND_MS = 100_000;
const SEND_SLACK_MS = 10_000;

interface Around {
  readonly clock: Clock;
  readonly log: Log;
  readonly folder: string;
  readonly settings: DeskSettings;
}

/** What the loops run with. */
interface Looping {
  readonly store: DeskStore;
  readonly watch: Watch;
  readonly channels: readonly Channel[];
  readonly judge: SiteJudge;
  readonly drift: DriftReader;
  readonly bell: Bell;
}

/** The loops that run beside the requests: what is due with time, messages on their way, how sites stand, the sign of life. */
export function runLoops(
  start: Around,
  { store, watch, channels, judge, drift, bell }: Looping,
): () => Promise<unknown> {
  const { clock, log, folder, settings } = start;
  const stopping = new AbortController();
  const { messagesAtOnce: atOnce } = settings.desk;
  const worker = createOutboxWorker({
    ...{ store, clock, log, channels, bell, name: `desk-${String(process.pid)}` },
    sendMs: Math.max(LEAST_SEND_MS, longestAttemptMs(settings) + SEND_SLACK_MS),
    ...(atOnce === undefined ? {} : { atOnce }),
  });
  const { file, url, every } = settings.deadMan ?? { file: "beat" };
  const beat = {
    ...(file === undefined ? {} : { file: join(folder, file) }),
    ...(url === undefined ? {} : { url }),
    everyMs: (every ?? 1) * 60_000,
  };
  const running = [
    watch.run(stopping.signal),
    worker.run(stopping.signal),
    judge.run(stopping.signal),
    drift.run(log, stopping.signal),
    runDeadMan(beat, { clock, log, atWork: () => isAtWork(store, clock) }, stopping.signal),
  ];
  return async () => {
    stopping.abort();
    await Promise.all(running);
  };
}

/** Whether the watch has lately looked at what is due, by the mark that it leaves in the store. */
async function isAtWork({ db }: DeskStore, clock: Clock): Promise<boolean> {
  const mark = await db.selectFrom("mark").select("value").where("name", "=", "heartbeat").executeTakeFirst();
  return mark !== undefined && clock.now() - mark.value <= AT_WORK_MS;
}
