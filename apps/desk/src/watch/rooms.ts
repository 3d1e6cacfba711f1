import type { WatchLimits } from "@earthbell/model";
import type { DeskStore, Writing } from "../store/index.ts";
import type { Counters, Draft } from "./draft.ts";
import { loadRooms } from "./load-rooms.ts";
import { saveDraft } from "./save-draft.ts";
import { draftOf, keepDraft, type SiteRoom } from "./site-room.ts";

/** Sites kept in memory; the one used longest ago goes first. */
const ROOMS = 20_000;

/**
 * The transactions of the watch, one after the other, and the sites in memory between them.
 *
 * What is in memory is what the store has: it comes from there, changes only once a transaction is stored, and is used
 * only while the pen shows that nobody else has written since. After any failure it is read anew.
 */
export class Rooms {
  readonly #store: DeskStore;
  readonly #limits: () => WatchLimits;
  readonly #wroteMessages: () => void;
  readonly #rooms = new Map<string, SiteRoom>();
  #counters: Counters | null = null;
  #pen = -1;
  #last: Promise<unknown> = Promise.resolve();

  /** @param wroteMessages  called when messages have been stored that wait to be sent */
  constructor(store: DeskStore, limits: () => WatchLimits, wroteMessages: () => void = () => undefined) {
    this.#store = store;
    this.#limits = limits;
    this.#wroteMessages = wroteMessages;
  }

  /**
   * Runs one transaction after those before it; rejects with nothing stored and nothing remembered.
   *
   * @param written  called when everything is written and nothing is stored yet
   */
  write<Result>(now: number, work: (draft: Draft) => Promise<Result>, written?: () => void): Promise<Result> {
    const turn = this.#last.then(() => this.#write(now, work, written));
    this.#last = turn.catch(() => undefined);
    return turn;
  }

  async #write<Result>(
    now: number,
    work: (draft: Draft) => Promise<Result>,
    written?: () => void,
  ): Promise<Result> {
    try {
      const { pen, draft, result } = await this.#store.write(async (tx, number) => {
        if (number !== this.#pen + 1) this.forgetAll();
        const one = await this.#begin(tx, now);
        const answer = await work(one);
        await saveDraft(one, this.#store.bulk);
        await saveCounters(one, this.#counters!);
        written?.();
        return { pen: number, draft: one, result: answer };
      });
      this.#pen = pen;
      this.#counters = { ...draft.counters };
      for (const site of draft.sites.values()) keepDraft(site);
      if (draft.happenings.some(({ kind }) => kind === "message")) this.#wroteMessages();
      return result;
    } catch (error) {
      this.forgetAll();
      throw error;
    }
  }

  async #begin(tx: Writing, now: number): Promise<Draft> {
    this.#counters ??= await loadCounters(tx);
    const sites: Draft["sites"] = new Map();
    return {
      tx,
      now,
      limits: this.#limits(),
      counters: { ...this.#counters },
      sites,
      happenings: [],
      drillReadings: new Map(),
      enter: async (ids) => {
        const wanted = [...new Set(ids)].filter((id) => !sites.has(id));
        const missing = wanted.filter((id) => !this.#rooms.has(id));
        const loaded = missing.length === 0 ? new Map<string, SiteRoom>() : await loadRooms(tx, missing, now);
        for (const id of wanted) {
          const room = loaded.get(id) ?? this.#rooms.get(id);
          if (room === undefined) continue;
          this.#remember(room);
          sites.set(id, draftOf(room));
        }
      },
    };
  }

  /** The site is read from the store the next time, and by the transaction that is under way if it has not entered it. */
  forgetSite(id: string): void {
    this.#rooms.delete(id);
  }

  /** Everything is read from the store the next time. */
  forgetAll(): void {
    this.#rooms.clear();
    this.#counters = null;
  }

  #remember(room: SiteRoom): void {
    this.#rooms.delete(room.id);
    this.#rooms.set(room.id, room);
    if (this.#rooms.size > ROOMS) this.#rooms.delete(this.#rooms.keys().next().value!);
  }
}

async function loadCounters(tx: Writing): Promise<Counters> {
  const rows = await tx.selectFrom("mark").selectAll().where("name", "in", ["cases", "drills"]).execute();
  const valueOf = (name: string) => rows.find((row) => row.name === name)?.value ?? 0;
  return { cases: valueOf("cases"), drills: valueOf("drills") };
}

async function saveCounters({ tx, counters }: Draft, before: Counters): Promise<void> {
  for (const name of ["cases", "drills"] as const) {
    if (counters[name] === before[name]) continue;
    await tx.updateTable("mark").set({ value: counters[name] }).where("name", "=", name).execute();
  }
}
