import type { FaultCode } from "../faults/catalogue.ts";

/** A path into the data: map keys and list positions. */
export type Path = readonly (string | number)[];

/** Maps and lists inside one another; honest files need six. */
export const DEEPEST_NESTING = 64;
/** Values that aliases may add to a file before it counts as a bomb. */
const MOST_ALIASED_VALUES = 10_000;
/** Keys written twice that are worth reporting. */
const MOST_DUPLICATES = 1000;
/** Characters of one text; no field takes a hundredth of it. */
const LONGEST_SCALAR = 65_536;

/** Reading cannot go on after this point of the text. Never leaves the folder. */
export class ReadingStopped extends Error {
  constructor(
    readonly code: FaultCode,
    readonly offset: number,
    message: string,
  ) {
    super(message);
  }
}

export interface Duplicate {
  readonly path: Path;
  readonly offset: number;
}

type Watcher = (path: Path, part: "key" | "value", offset: number) => void;

/** One pass over one text: where it is, how deep, and what it has seen so far. */
export class Reading {
  pos = 0;
  /** Offset at which the current line begins; indentation counts from here. */
  lineStart = 0;
  readonly duplicates: Duplicate[] = [];
  readonly #path: (string | number)[] = [];
  readonly #anchors = new Map<string, { readonly value: unknown; readonly values: number }>();
  #depth = 0;
  #values = 0;
  #aliased = 0;

  constructor(
    readonly text: string,
    readonly watch?: Watcher,
  ) {}

  /** Character code at the position, or −1 at the end. */
  peek(ahead = 0): number {
    const at = this.pos + ahead;
    return at < this.text.length ? this.text.charCodeAt(at) : -1;
  }

  /** Column of the position, from 0. */
  get column(): number {
    return this.pos - this.lineStart;
  }

  newLine(): void {
    this.pos++;
    this.lineStart = this.pos;
  }

  stop(message: string, code: FaultCode = "INPUT_SYNTAX_INVALID", offset = this.pos): never {
    throw new ReadingStopped(code, offset, message);
  }

  /** Stops when the text that began at `start` is longer than any field is. */
  limitLength(start: number): void {
    if (this.pos - start > LONGEST_SCALAR)
      this.stop(
        `A text of more than ${LONGEST_SCALAR} characters begins here.`,
        "INPUT_TEXT_TOO_LONG",
        start,
      );
  }

  /** Runs `read` for the value of one key or list position, so that places carry their path. */
  within<Value>(step: string | number, offset: number, read: () => Value): Value {
    this.#path.push(step);
    this.watch?.(this.#path, "key", offset);
    const value = read();
    this.#path.pop();
    return value;
  }

  /** Marks the start of a value. */
  begin(): void {
    this.#values++;
    this.watch?.(this.#path, "value", this.pos);
  }

  nested<Value>(read: () => Value): Value {
    if (++this.#depth > DEEPEST_NESTING)
      this.stop(`Maps and lists are nested more than ${DEEPEST_NESTING} deep.`, "INPUT_NESTING_TOO_DEEP");
    const value = read();
    this.#depth--;
    return value;
  }

  put(map: Record<string, unknown>, key: string, value: unknown, offset: number): void {
    if (Object.hasOwn(map, key) && this.duplicates.length < MOST_DUPLICATES)
      this.duplicates.push({ path: [...this.#path, key], offset });
    // `__proto__` set by assignment would change the object instead of adding a key.
    if (key === "__proto__")
      Object.defineProperty(map, key, { value, enumerable: true, configurable: true, writable: true });
    else map[key] = value;
  }

  /** Reads a value that carries an anchor, and keeps it under that name. */
  anchored(name: string, read: () => unknown): unknown {
    const before = this.#values;
    const value = this.nested(read);
    this.#anchors.set(name, { value, values: this.#values - before });
    return value;
  }

  alias(name: string, offset: number): unknown {
    const anchor = this.#anchors.get(name);
    if (!anchor)
      this.stop(`No anchor &${name} is defined before this alias.`, "INPUT_SYNTAX_INVALID", offset);
    this.#values += anchor.values;
    this.#aliased += anchor.values;
    if (this.#aliased > MOST_ALIASED_VALUES)
      this.stop(`Aliases repeat more than ${MOST_ALIASED_VALUES} values.`, "INPUT_ALIAS_TOO_MANY", offset);
    return anchor.value;
  }
}
