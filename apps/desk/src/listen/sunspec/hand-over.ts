import type { WatchReading } from "@earthbell/model";
import type { Clock } from "../../clock.ts";
import type { Log } from "../../log.ts";
import type { Accept } from "../accept.ts";
import { Backlog, reportsFault } from "./backlog.ts";
import { backOffMs } from "./pace.ts";

/** Readings wait this long for company, unless one of them reports a fault: storing many costs as much as storing one. */
const GATHER_MS = 200;
/** Places of one batch. */
const BATCH = 500;
const FIRST_RETRY_MS = 1000;
const LONGEST_RETRY_MS = 30_000;

export interface HandOverParts {
  readonly accept: Accept;
  readonly clock: Clock;
  readonly random: () => number;
  readonly log: Log;
}

/** Hands readings to the desk, in batches, one batch at a time; what the desk rejects is kept and offered again. */
export class HandOver {
  private readonly parts: HandOverParts;
  private readonly backlog = new Backlog();
  private readonly stopping = new AbortController();
  private readonly running: Promise<void>;
  private readonly noted = new Set<string>();
  /** Ends the rest before the next batch. */
  private wake: () => void = () => undefined;
  private hurry = new AbortController();

  constructor(parts: HandOverParts) {
    this.parts = parts;
    this.running = this.run();
  }

  put(readings: readonly WatchReading[]): void {
    for (const reading of readings) this.backlog.keep(reading);
    if (readings.some(reportsFault)) this.hurry.abort();
    this.wake();
  }

  /** Offers what is left once more, then ends. */
  async stop(): Promise<void> {
    this.stopping.abort();
    this.hurry.abort();
    this.wake();
    await this.running;
    while (!this.backlog.isEmpty) if (!(await this.offer())) return;
  }

  private async run(): Promise<void> {
    const { clock, random } = this.parts;
    for (let failures = 0; !this.stopping.signal.aborted; ) {
      if (this.backlog.isEmpty) {
        await new Promise<void>((resolve) => (this.wake = resolve));
        await clock.pause(GATHER_MS, this.hurry.signal);
      }
      this.hurry = new AbortController();
      failures = this.backlog.isEmpty || (await this.offer()) ? 0 : failures + 1;
      if (failures > 0)
        await clock.pause(
          backOffMs(failures, FIRST_RETRY_MS, LONGEST_RETRY_MS, random()),
          this.stopping.signal,
        );
    }
  }

  /** One batch; false where the desk could not take it. */
  private async offer(): Promise<boolean> {
    const batch = this.backlog.take(BATCH);
    try {
      const { setAside } = await this.parts.accept(batch);
      this.noteSetAside(batch, setAside);
      return true;
    } catch (error) {
      for (const reading of batch) this.backlog.keep(reading);
      this.parts.log.warn(
        { readings: batch.length, error: String(error) },
        "The desk could not take readings in; they are kept.",
      );
      return false;
    }
  }

  /** Says once of each device why the desk sets its readings aside. */
  private noteSetAside(
    batch: readonly WatchReading[],
    setAside: readonly { key: string; reason: string }[],
  ): void {
    for (const { key, reason } of setAside) {
      const reading = batch.find((one) => one.key === key);
      const place = JSON.stringify([reading?.site, reading?.device, reason]);
      if (this.noted.has(place) || this.noted.size > 10_000) continue;
      this.noted.add(place);
      this.parts.log.warn(
        { site: reading?.site, device: reading?.device, reason },
        "Readings of a device are set aside.",
      );
    }
  }
}
