import { checkReading, type WatchReading } from "@earthbell/model";
import type { Clock } from "../../clock.ts";
import type { Log } from "../../log.ts";
import type { Accept } from "../accept.ts";
import type { HeardDevices } from "./heard-devices.ts";
import { type Arrival, readPayload } from "./read-payload.ts";

/** Where the readings of this listener go. */
export interface HandOverParts {
  readonly accept: Accept;
  /** Readings that a device flags as a drill; absent: they are set aside. */
  readonly rehearse?: (readings: readonly WatchReading[], by: string) => Promise<unknown>;
  readonly clock: Clock;
  readonly log: Log;
}

export interface HandOverOptions {
  readonly name: string;
  readonly prefix: string;
}

/** Readings that are handed over at once. */
const BATCH = 500;
/** Time until the next attempt after the store has failed, growing from the first to the second [ms]. */
const FIRST_PAUSE_MS = 1000;
const LONGEST_PAUSE_MS = 30_000;

/** Brings messages to the desk's door, one after the other, and keeps each until it is stored. */
export class HandOver {
  /** Since when nothing can be stored; null while it can. */
  failingSinceAt: number | null = null;
  setAside = 0;
  private last: Promise<unknown> = Promise.resolve();

  constructor(
    private readonly options: HandOverOptions,
    private readonly parts: HandOverParts,
    private readonly devices: HeardDevices,
  ) {}

  /**
   * @param gone  the connection by which the message came is over: it will come again, and nobody waits for this one
   * @returns true once the message is stored or set aside; false where it was given up because of `gone`
   */
  take(arrival: Arrival, gone: AbortSignal): Promise<boolean> {
    // Delivered again after a lost connection, a message waits for its first delivery to come to an end.
    const taken = this.last.then(() => this.store(arrival, gone));
    this.last = taken.catch(() => undefined);
    return taken;
  }

  private async store(arrival: Arrival, gone: AbortSignal): Promise<boolean> {
    const { clock, log } = this.parts;
    const read = readPayload(arrival, this.options.prefix, this.options.name);
    if (read.from !== null) this.devices.heard(read.from, read.alive);
    for (let pauseMs = FIRST_PAUSE_MS; !gone.aborted; pauseMs = Math.min(2 * pauseMs, LONGEST_PAUSE_MS)) {
      try {
        await (read.drill
          ? this.handToDrill(arrival.topic, read.records)
          : this.handToDesk(arrival.topic, read.records));
        this.failingSinceAt = null;
        return true;
      } catch (error) {
        if (this.failingSinceAt === null)
          log.error(
            { listener: this.options.name, error },
            "Readings cannot be stored; they are kept and tried again.",
          );
        this.failingSinceAt ??= clock.now();
        await clock.pause(pauseMs, gone);
      }
    }
    return false;
  }

  private async handToDesk(topic: string, records: readonly unknown[]): Promise<void> {
    for (let start = 0; start < records.length; start += BATCH) {
      // The door checks every field and keeps aside what is no reading.
      const batch = records.slice(start, start + BATCH) as readonly WatchReading[];
      const { setAside } = await this.parts.accept(batch);
      this.setAside += setAside.length;
      const reason = setAside[0]?.reason;
      if (reason !== undefined && this.devices.isNews(topic, reason))
        this.parts.log.warn(
          { listener: this.options.name, topic, reason, count: setAside.length },
          "Readings were set aside.",
        );
    }
  }

  /** What is no reading, and what nothing here can rehearse, is set aside like everything else. */
  private async handToDrill(topic: string, records: readonly unknown[]): Promise<void> {
    const { rehearse } = this.parts;
    const sound = records.filter((record) => checkReading(record).ok) as readonly WatchReading[];
    const unsound = rehearse === undefined ? records : records.filter((record) => !checkReading(record).ok);
    if (rehearse !== undefined && sound.length > 0) await rehearse(sound, this.options.name);
    await this.handToDesk(
      topic,
      unsound.map((record) => ({ ...(record as object), drill: true })),
    );
  }
}
