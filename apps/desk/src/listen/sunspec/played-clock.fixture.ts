import type { Clock } from "../../clock.ts";

/** A clock that stands still until a test lets time pass; pauses end in the order of their instants. */
export class PlayedClock implements Clock {
  private at: number;
  private readonly pauses = new Set<{ readonly endsAt: number; readonly end: () => void }>();

  constructor(startAt: number) {
    this.at = startAt;
  }

  now(): number {
    return this.at;
  }

  pause(ms: number, signal: AbortSignal): Promise<void> {
    return new Promise((resolve) => {
      if (signal.aborted) {
        resolve();
        return;
      }
      const end = (): void => {
        this.pauses.delete(pause);
        signal.removeEventListener("abort", end);
        resolve();
      };
      const pause = { endsAt: this.at + Math.max(0, ms), end };
      this.pauses.add(pause);
      signal.addEventListener("abort", end);
    });
  }

  /** Lets time pass; whatever is due on the way happens at its instant. */
  async pass(ms: number): Promise<void> {
    const until = this.at + ms;
    for (;;) {
      await settled();
      const next = [...this.pauses].reduce<{ readonly endsAt: number; readonly end: () => void } | null>(
        (first, pause) => (first === null || pause.endsAt < first.endsAt ? pause : first),
        null,
      );
      if (next === null || next.endsAt > until) break;
      this.at = Math.max(this.at, next.endsAt);
      next.end();
    }
    this.at = until;
  }

  get waiting(): number {
    return this.pauses.size;
  }
}

/** Everything that can happen without time passing has happened. */
function settled(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}
