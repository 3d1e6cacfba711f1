const NONE: readonly never[] = [];

/**
 * A map as a transaction would leave it: what is kept, with changes laid over it. The changes are all that has to be
 * stored, and become part of what is kept only once they are.
 */
export class Drafted<Value extends object> {
  readonly #kept: Map<string, Value>;
  #changes: Map<string, Value> | null = null;

  constructor(kept: Map<string, Value>) {
    this.#kept = kept;
  }

  get(key: string): Value | undefined {
    return this.#changes?.get(key) ?? this.#kept.get(key);
  }

  set(key: string, value: Value): void {
    if (this.get(key) === value) return;
    this.#changes ??= new Map();
    this.#changes.set(key, value);
  }

  /** In the order of their keys, so that a desk that was started anew goes through them as one that went on. */
  values(): readonly Value[] {
    const all = this.#changes === null ? this.#kept : new Map([...this.#kept, ...this.#changes]);
    return [...all].sort(([one], [other]) => (one < other ? -1 : 1)).map(([, value]) => value);
  }

  /** Whether one of the values is like this; builds no list of them. */
  some(isLike: (value: Value) => boolean): boolean {
    const changes = this.#changes;
    if (changes !== null) for (const value of changes.values()) if (isLike(value)) return true;
    for (const [key, value] of this.#kept) if (changes?.has(key) !== true && isLike(value)) return true;
    return false;
  }

  hasChanges(): boolean {
    return this.#changes !== null;
  }

  /** What was set, the newest of each key. */
  changes(): readonly Value[] {
    return this.#changes === null ? NONE : [...this.#changes.values()];
  }

  keep(): void {
    if (this.#changes === null) return;
    for (const [key, value] of this.#changes) this.#kept.set(key, value);
    this.#changes = null;
  }
}
