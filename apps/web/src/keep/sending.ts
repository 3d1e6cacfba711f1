import type { HttpDesk } from "./http-desk.ts";

/** Why something was not handed over. `later`: it is tried again by itself; else a person has to do something. */
export interface SendTrouble {
  readonly later: boolean;
  readonly text: string;
}

const FIRST_WAIT_MS = 4000;
const LONGEST_WAIT_MS = 60_000;

interface SendingParts {
  readonly desk: () => Pick<HttpDesk, "handOver" | "visits">;
  /** What a failure means. */
  readonly troubleFrom: (error: unknown) => SendTrouble;
  /** Calls something after so many milliseconds. */
  readonly after: (work: () => void, ms: number) => void;
}

/** Hands visits over, one after the other, and again by itself until the desk has them. */
export class Sending {
  readonly #waiting = new Set<string>();
  readonly #troubles = new Map<string, SendTrouble>();
  readonly #listeners = new Set<() => void>();
  #current: string | null = null;
  #wait = FIRST_WAIT_MS;
  #retrying = false;

  constructor(private readonly parts: SendingParts) {}

  /** Hands a visit over now, or once what is under way has ended. */
  readonly send = (visit: string): void => {
    this.#waiting.add(visit);
    void this.#work();
  };

  /** Hands over everything that waits on this device. */
  readonly sendAll = (): void => {
    void this.parts
      .desk()
      .visits.all()
      .then((visits) => {
        for (const { id, place } of visits) if (place !== null) this.send(id);
      });
  };

  readonly troubleOf = (visit: string): SendTrouble | null => this.#troubles.get(visit) ?? null;

  readonly underWay = (visit: string): boolean => this.#current === visit || this.#waiting.has(visit);

  readonly watch = (changed: () => void): (() => void) => {
    this.#listeners.add(changed);
    return () => {
      this.#listeners.delete(changed);
    };
  };

  async #work(): Promise<void> {
    if (this.#current !== null) return;
    for (const visit of this.#waiting) {
      this.#waiting.delete(visit);
      this.#current = visit;
      this.#tell();
      await this.#handOver(visit);
      this.#current = null;
    }
    this.#tell();
  }

  async #handOver(visit: string): Promise<void> {
    try {
      await this.parts.desk().handOver(visit);
      this.#troubles.delete(visit);
      this.#wait = FIRST_WAIT_MS;
    } catch (error) {
      const trouble = this.parts.troubleFrom(error);
      this.#troubles.set(visit, trouble);
      if (trouble.later) this.#retryLater();
    }
  }

  #retryLater(): void {
    if (this.#retrying) return;
    this.#retrying = true;
    this.parts.after(() => {
      this.#retrying = false;
      for (const [visit, { later }] of this.#troubles) if (later) this.send(visit);
    }, this.#wait);
    this.#wait = Math.min(2 * this.#wait, LONGEST_WAIT_MS);
  }

  #tell(): void {
    for (const heard of this.#listeners) heard();
  }
}
