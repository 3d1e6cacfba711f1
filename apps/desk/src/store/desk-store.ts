import type { Asking, Writing } from "./asking.ts";
import type { Bulk } from "./bulk.ts";
import type { StoreTrouble } from "./store-trouble.ts";

/** Where the desk keeps everything. */
export type StorePlace =
  /** An embedded database in one file; `:memory:` for rehearsals that are not to outlive the process. */
  | { readonly kind: "sqlite"; readonly file: string }
  | { readonly kind: "postgres"; readonly url: string; readonly maxConnections?: number };

/** Whether the store is in order; what is not, in words. */
export interface Soundness {
  readonly sound: boolean;
  readonly problems: readonly string[];
}

/**
 * The store of one desk.
 *
 * `write` is the one transaction of a happening: it takes the pen first, so that on every database one such transaction
 * runs at a time, and says by its number whether somebody else has written in between.
 */
export interface DeskStore {
  readonly kind: StorePlace["kind"];
  readonly db: Asking;
  readonly bulk: Bulk;
  /**
   * @param work  gets the transaction and the number of this writing: one more than that of the writing before it
   * @returns what the work returns, once it is stored durably; rejects with nothing stored
   */
  write<Result>(work: (tx: Writing, pen: number) => Promise<Result>): Promise<Result>;
  /**
   * A transaction for rows that the watch does not keep in memory: it waits for the pen like the others and does not
   * count as a writing.
   */
  amend<Result>(work: (tx: Writing) => Promise<Result>): Promise<Result>;
  /** Why the last writing was not stored; null once one was. */
  trouble(): StoreTrouble | null;
  /** A copy of the whole store, right as of one instant, taken while the desk runs. The file must not exist. */
  backup(toFile: string): Promise<void>;
  checkSound(): Promise<Soundness>;
  close(): Promise<void>;
}
