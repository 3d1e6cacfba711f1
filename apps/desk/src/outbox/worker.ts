import type { Clock } from "../clock.ts";
import type { Log } from "../log.ts";
import type { DeskStore } from "../store/index.ts";
import type { Channel, SendOutcome } from "../tell/channel.ts";
import { type Bell, createBell } from "./bell.ts";
import { claimDue, type Claimed } from "./claim.ts";
import { recordOutcome } from "./record.ts";

/** Steps of handing one message over, in this order. */
export type OutboxStep = "outbox-claimed" | "outbox-sent" | "outbox-written" | "outbox-recorded";

export interface WorkerOptions {
  readonly store: DeskStore;
  readonly clock: Clock;
  readonly log: Log;
  readonly channels: readonly Channel[];
  /** Names this worker among those of the same store; another one for each process. */
  readonly name: string;
  /** Messages that one channel sends at a time; absent: 4. */
  readonly atOnce?: number;
  /** How long sending one message may take [ms]; absent: 60 s. Its claim holds for twice as long. */
  readonly sendMs?: number;
  readonly step?: (name: OutboxStep, key: string) => void;
  /** Rung when messages have been stored by this process; those of others are found by looking. */
  readonly bell?: Bell;
}

export interface OutboxWorker {
  /** Sends what is due until the signal, then finishes what is being sent. Never rejects. */
  run(signal: AbortSignal): Promise<void>;
  /** Sends what is due now, once. @returns how many messages were claimed */
  sendDue(): Promise<number>;
}

const POLL_MS = 1000;
const AFTER_FAILURE_MS = 2000;

/**
 * Hands messages over: claims a row, sends it, and only then records that it was sent. A crash before sending is a retry; a
 * crash after sending and before recording is a duplicate with the same key.
 */
export function createOutboxWorker(options: WorkerOptions): OutboxWorker {
  const atOnce = options.atOnce ?? 4;
  return {
    run: async (signal) => {
      await Promise.all(options.channels.map((channel) => lane(options, channel, atOnce, signal)));
    },
    sendDue: async () => {
      let count = 0;
      for (const channel of options.channels) {
        for (;;) {
          const rows = await claim(options, channel, atOnce);
          if (rows.length === 0) break;
          count += rows.length;
          await Promise.all(rows.map((row) => handOver(options, channel, row)));
        }
      }
      return count;
    },
  };
}

/** One channel: as many at once as it may, the next one as soon as one is done. */
async function lane(
  options: WorkerOptions,
  channel: Channel,
  atOnce: number,
  signal: AbortSignal,
): Promise<void> {
  const { clock, log, bell = createBell(clock) } = options;
  const sending = new Set<Promise<void>>();
  let failing = false;
  while (!signal.aborted) {
    try {
      const rung = bell.rung();
      const free = atOnce - sending.size;
      const rows = free === 0 ? [] : await claim(options, channel, free);
      failing = false;
      for (const row of rows) {
        const one: Promise<void> = handOver(options, channel, row).finally(() => sending.delete(one));
        sending.add(one);
      }
      if (free === 0) await Promise.race(sending);
      else if (rows.length === 0) await bell.pause(rung, POLL_MS, signal);
    } catch (error) {
      if (!failing)
        log.error({ err: error, channel: channel.kind }, "claiming messages failed; it is tried again");
      failing = true;
      await clock.pause(AFTER_FAILURE_MS, signal);
    }
  }
  await Promise.all(sending);
}

function claim({ store, clock, name, sendMs = 60_000 }: WorkerOptions, channel: Channel, limit: number) {
  return claimDue(store, { channel: channel.kind, by: name, now: clock.now(), leaseMs: 2 * sendMs, limit });
}

/** Never rejects: what cannot be recorded stays claimed, and is sent again when its lease is over. */
async function handOver(options: WorkerOptions, channel: Channel, claimed: Claimed): Promise<void> {
  const { store, clock, log, name } = options;
  const step = options.step ?? (() => undefined);
  const { key } = claimed.envelope;
  try {
    step("outbox-claimed", key);
    const outcome = await send(options, channel, claimed);
    step("outbox-sent", key);
    await recordOutcome(store, claimed, outcome, {
      by: name,
      now: clock.now(),
      written: () => {
        step("outbox-written", key);
      },
    });
    step("outbox-recorded", key);
    if (outcome.outcome !== "accepted")
      log.warn({ key, reason: outcome.reason }, "a message was not handed over");
  } catch (error) {
    log.error({ err: error, key }, "what became of a message was not recorded; it may be sent twice");
  }
}

async function send(
  { clock, sendMs = 60_000 }: WorkerOptions,
  channel: Channel,
  { envelope }: Claimed,
): Promise<SendOutcome> {
  const over = new AbortController();
  const done = new AbortController();
  void clock.pause(sendMs, done.signal).then(() => {
    over.abort();
  });
  try {
    return await channel.send(envelope, over.signal);
  } catch (error) {
    return { outcome: "later", reason: error instanceof Error ? error.message : String(error) };
  } finally {
    done.abort();
  }
}
