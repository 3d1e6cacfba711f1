import { sql } from "kysely";
import type { Clock } from "../clock.ts";
import type { Log } from "../log.ts";
import type { DeskStore, StoreTrouble } from "../store/index.ts";
import { lookAtSites } from "./look-at-sites.ts";
import type { Telling } from "./occasions.ts";
import { clearAway } from "./retention.ts";
import type { Rooms } from "./rooms.ts";
import { clockWentBack, writeMark } from "./start-up.ts";

const SITES_AT_ONCE = 1000;
const HEARTBEAT_MS = 15_000;
const CLEAR_AWAY_MS = 86_400_000;
/** A clock that is set by the network is moved by less. */
const CLOCK_BACK_MS = 60_000;
/** The stored instants are asked for this often, whatever the clock has done meanwhile. */
const LONGEST_PAUSE_MS = 5000;
const AFTER_FAILURE_MS = 2000;

/** Looks at what is due, again and again, and keeps the marks by which a start knows what came before it. */
export class Looker {
  readonly #rooms: Rooms;
  readonly #store: DeskStore;
  readonly #clock: Clock;
  readonly #log: Log;
  readonly #telling: Telling;
  #lastNow = -Infinity;
  #heartbeatAt = -Infinity;
  #clearedAwayAt = -Infinity;
  #said: StoreTrouble | null = null;

  constructor(
    rooms: Rooms,
    { store, clock, log }: { readonly store: DeskStore; readonly clock: Clock; readonly log: Log },
    telling: Telling,
  ) {
    this.#rooms = rooms;
    this.#store = store;
    this.#clock = clock;
    this.#log = log;
    this.#telling = telling;
  }

  async look(): Promise<{ readonly nextLookAt: number | null }> {
    const now = this.#clock.now();
    await this.#mindTheClock(now);
    for (;;) {
      const due = await this.#store.db
        .selectFrom("next_look")
        .select("site")
        .where("at", "<=", now)
        .orderBy("at")
        .limit(SITES_AT_ONCE)
        .execute();
      if (due.length === 0) break;
      await this.#lookAt(
        due.map(({ site }) => site),
        now,
      );
    }
    await this.#keepMarks(now);
    const { at } = await this.#store.db
      .selectFrom("next_look")
      .select(sql<number | null>`min(at)`.as("at"))
      .executeTakeFirstOrThrow();
    return { nextLookAt: at };
  }

  async #lookAt(ids: readonly string[], now: number): Promise<void> {
    await this.#rooms.write(now, async (draft) => {
      await draft.enter(ids);
      const absent = ids.filter((id) => !draft.sites.has(id));
      if (absent.length > 0) await draft.tx.deleteFrom("next_look").where("site", "in", absent).execute();
      await lookAtSites(draft, [...draft.sites.values()], this.#telling);
    });
  }

  async #mindTheClock(now: number): Promise<void> {
    const before = this.#lastNow;
    this.#lastNow = now;
    if (now >= before - CLOCK_BACK_MS) return;
    this.#log.warn({ from: before, to: now }, "the clock went back");
    await this.#rooms.write(now, (draft) => clockWentBack(draft, this.#telling, before));
    this.#rooms.forgetAll();
    this.#heartbeatAt = now;
    this.#clearedAwayAt = now;
  }

  async #keepMarks(now: number): Promise<void> {
    if (now - this.#heartbeatAt >= HEARTBEAT_MS) {
      await this.#store.amend((tx) => writeMark(tx, "heartbeat", now));
      this.#heartbeatAt = now;
    }
    if (now - this.#clearedAwayAt < CLEAR_AWAY_MS) return;
    await clearAway(this.#store, now);
    this.#clearedAwayAt = now;
  }

  #sayTrouble(): void {
    const trouble = this.#store.trouble();
    if (trouble?.code === this.#said?.code) return;
    this.#said = trouble;
    if (trouble === null) this.#log.warn({}, "the store can be written again");
    else
      this.#log.error(
        { code: trouble.code },
        `nothing can be stored, and what is pushed is refused: ${trouble.text}`,
      );
  }

  async run(signal: AbortSignal): Promise<void> {
    while (!signal.aborted) {
      let pauseMs = AFTER_FAILURE_MS;
      try {
        const { nextLookAt } = await this.look();
        pauseMs = Math.min(LONGEST_PAUSE_MS, Math.max(0, (nextLookAt ?? Infinity) - this.#clock.now()));
      } catch (error) {
        // While the store is in trouble every look fails alike; that is said once.
        if (this.#store.trouble() === null)
          this.#log.error({ err: error }, "looking at what is due failed; it is tried again");
      }
      this.#sayTrouble();
      await this.#clock.pause(pauseMs, signal);
    }
  }
}
