import type { HandedVisit } from "@earthbell/model";
import type { KeptForm, KeptPhoto, KeptScore, KeptSite, KeptVisit } from "./kept.ts";

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
  /** A visit that is kept is put together with what is kept of it already: two tabs lose nothing to each other. */
  readonly visits: Shelf<KeptVisit> & {
    /** What this device has of a visit, without asking anybody else. */
    readonly here: (id: string) => Promise<KeptVisit | null>;
    /** Takes in what others have entered; where a person stands on this device stays as it is. */
    readonly takeIn: (visit: HandedVisit) => Promise<void>;
  };
  readonly sites: Shelf<KeptSite>;
  readonly scores: Shelf<KeptScore, number>;
  readonly forms: Shelf<KeptForm>;
  readonly photos: Pick<Shelf<KeptPhoto>, "keep" | "remove"> & {
    readonly of: (visit: string) => Promise<readonly KeptPhoto[]>;
  };
  /** Called after any record changes, here or in another tab; returns how to stop listening. */
  readonly watch: (changed: () => void) => () => void;
}
