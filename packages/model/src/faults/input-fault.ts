/** One thing that is wrong with an input: where it is, what was found, what is allowed. Never a stack trace. */
export interface InputFault {
  /** Stable for ever; the text may change. */
  readonly code: string;
  readonly file: string;
  /** 1-based; null where the input has no lines. */
  readonly line: number | null;
  readonly column: number | null;
  /** Dotted path: strings[0].modules. Empty for the file as a whole. */
  readonly field: string;
  /** The offending value as written, shortened to 60 characters. */
  readonly value: string | null;
  /** What would be accepted, in words. */
  readonly allowed: string;
  /** One sentence for a person, without the place. */
  readonly message: string;
}

/** Reading an input gives the record, or every fault of the input at once. */
export type ReadResult<Record> =
  | { readonly ok: true; readonly record: Record; readonly warnings: readonly InputFault[] }
  | { readonly ok: false; readonly faults: readonly InputFault[] };
