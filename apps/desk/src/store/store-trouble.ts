/** Why the store takes nothing in at present; the code has a page of its own (`earthbell explain CODE`). */
export interface StoreTrouble {
  readonly code: "STORE_FULL" | "STORE_READ_ONLY" | "STORE_FAILING";
  readonly text: string;
}

/** Codes of SQLite, PostgreSQL (SQLSTATE) and the system; the beginning of a code stands for its whole class. */
const CLASSES: readonly (readonly [RegExp, StoreTrouble["code"]])[] = [
  [/^(?:SQLITE_FULL|SQLITE_IOERR_SHMSIZE|53100|ENOSPC)$/u, "STORE_FULL"],
  [/^(?:SQLITE_READONLY|25006$|EROFS$)/u, "STORE_READ_ONLY"],
  [/^SQLITE_(?:IOERR|CORRUPT|NOTADB|CANTOPEN|BUSY|PROTOCOL)/u, "STORE_FAILING"],
  // Connection, resources, operator, system: 40, for one, is a transaction that may simply be tried again.
  [/^(?:08|53|57|58)[0-9A-Z]{3}$/u, "STORE_FAILING"],
  [/^E(?:CONN|PIPE$|HOST|NET|TIMEDOUT$|AI_AGAIN$|NOTFOUND$)/u, "STORE_FAILING"],
];

const TEXTS: Readonly<Record<StoreTrouble["code"], string>> = {
  STORE_FULL: "The disk of the store is full.",
  STORE_READ_ONLY: "The store can be read and not written.",
  STORE_FAILING: "The store cannot be written.",
};

/** What a failed writing says about the store; null where the fault lies with what was to be written. */
function troubleOf(error: unknown): StoreTrouble | null {
  const code = (error as { readonly code?: unknown } | null)?.code;
  if (typeof code !== "string") return null;
  const found = CLASSES.find(([pattern]) => pattern.test(code))?.[1];
  return found === undefined ? null : { code: found, text: `${TEXTS[found]} (${code})` };
}

/** Keeps in mind whether the last writing that could tell was stored. */
export class TroubleMinder {
  #trouble: StoreTrouble | null = null;

  get trouble(): StoreTrouble | null {
    return this.#trouble;
  }

  async mind<Result>(writing: Promise<Result>): Promise<Result> {
    try {
      const result = await writing;
      this.#trouble = null;
      return result;
    } catch (error) {
      this.#trouble = troubleOf(error) ?? this.#trouble;
      throw error;
    }
  }
}
