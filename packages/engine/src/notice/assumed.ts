import type { Provenance, Sourced } from "../provenance.ts";

/** What had to be assumed for one site, each thing once, in the order in which it was met. */
export class Assumed {
  readonly list: Sourced<string>[] = [];

  add(words: string, { source, tag }: Provenance): void {
    if (!this.list.some(({ value }) => value === words)) this.list.push({ value: words, source, tag });
  }

  /** The stated value, or the assumed one with a word that it was assumed. */
  orElse<Value>(stated: Value | undefined, assumed: Sourced<Value>, words: string): Value {
    if (stated !== undefined) return stated;
    this.add(words, assumed);
    return assumed.value;
  }
}
