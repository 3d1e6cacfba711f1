/**
 * A map as a transaction would leave it: what is kept, with changes laid over it. The changes are all that has to be
 * stored, and become part of what is kept only once they are.
 */
export class Drafted<Value extends object> {
  readonly #kept: Map<string, Value>;
  readonly #changes = new Map<string, Value>();

  constructor(kept: Map<string, Value>) {
    this.#kept = kept;
  }

  get(key: string): Value | undefined {
    return this.#changes.get(key) ?? this.#kept.get(key);
  }

  set(key: string, value: Value): void {
    if (this.get(key) !== value) this.#changes.set(key, value);
  }

  values(): readonly Value[] {
    if (this.#changes.size === 0) return [...this.#kept.values()];
    return [...new Map([...this.#kept, ...this.#changes]).values()];
  }

  changes(): readonly (readonly [string, Value])[] {
    return [...this.#changes];
  }

  keep(): void {
    for (const [key, value] of this.#changes) this.#kept.set(key, value);
    this.#changes.clear();
  }
}
