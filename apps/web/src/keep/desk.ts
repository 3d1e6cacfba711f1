import type { KeptPhoto, KeptScore, KeptSite, KeptVisit } from "./kept.ts";

/** One kind of record that a desk keeps. */
export interface Shelf<Item, Key extends string | number = string> {
  readonly all: () => Promise<readonly Item[]>;
  readonly one: (key: Key) => Promise<Item | null>;
  readonly keep: (item: Item) => Promise<void>;
  readonly remove: (key: Key) => Promise<void>;
}

/**
 * What the pages ask for, whoever answers: this device alone, or a desk over HTTP.
 *
 * A page never talks to storage or network by itself, so that each place works the same where there is no signal.
 */
export interface Desk {
  readonly visits: Shelf<KeptVisit>;
  readonly sites: Shelf<KeptSite>;
  readonly scores: Shelf<KeptScore, number>;
  readonly photos: Pick<Shelf<KeptPhoto>, "keep" | "remove"> & {
    readonly of: (visit: string) => Promise<readonly KeptPhoto[]>;
  };
  /** Called after any record changes, here or in another tab; returns how to stop listening. */
  readonly watch: (changed: () => void) => () => void;
}
