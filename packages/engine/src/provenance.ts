/**
 * Where a number comes from. Every value that reaches a person carries one.
 *
 * published       seen in the named source
 * secondary       seen in a copy or a trade text: check against the standard itself
 * memory          remembered, not confirmed: a default to be replaced from the reader's own copy
 * common practice what the trade does, with no source
 * computed        arithmetic on other values
 * design choice   ours
 * user            given by the user's file
 */
export type Tag =
  | "published"
  | "secondary"
  | "memory"
  | "common practice"
  | "computed"
  | "design choice"
  | "user";

export interface Provenance {
  /** Document, edition and clause, or the rule pack row, or the field of the user's file. */
  readonly source: string;
  readonly tag: Tag;
}

/** A value with its provenance. */
export type Sourced<Value> = { readonly value: Value } & Provenance;
