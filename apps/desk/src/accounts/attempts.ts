/** Attempts that are free before each further one has to wait. */
const FREE = 5;
const FIRST_WAIT_MS = 10_000;
const LONGEST_WAIT_MS = 15 * 60_000;
/** Names that are remembered; the oldest goes when there are more. */
const MOST_NAMES = 10_000;

/** Slows down guessing at one name: after some failures each further attempt waits twice as long as the one before. */
export class Attempts {
  readonly #failures = new Map<string, { readonly count: number; readonly at: number }>();

  /** How long this name has to wait before it may be tried again [ms]; 0 for not at all. */
  waitMs(name: string, now: number): number {
    const failed = this.#failures.get(name);
    if (failed === undefined || failed.count < FREE) return 0;
    const wait = Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (failed.count - FREE));
    return Math.max(0, failed.at + wait - now);
  }

  failed(name: string, now: number): void {
    const count = (this.#failures.get(name)?.count ?? 0) + 1;
    this.#failures.delete(name);
    if (this.#failures.size >= MOST_NAMES) this.#failures.delete(this.#failures.keys().next().value!);
    this.#failures.set(name, { count, at: now });
  }

  succeeded(name: string): void {
    this.#failures.delete(name);
  }
}
