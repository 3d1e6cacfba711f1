import type { Writable } from "node:stream";

/** The output could not be written, and not because the reader went away: a full disk, say. */
export class OutputError extends Error {
  override readonly name = "OutputError";
}

/**
 * The only door through which text leaves.
 *
 * `write` resolves when the stream takes more, so that a slow reader slows the work down and memory stays flat. A reader
 * that went away (a closed pipe) is no error: `closed` turns true and the rest is dropped. Anything else that keeps text
 * from being written rejects with OutputError.
 */
export class Writer {
  #closed = false;
  #failure: OutputError | null = null;

  constructor(private readonly stream: Writable) {
    stream.on("error", (error) => {
      this.#note(error);
    });
  }

  /** Nobody reads any more. */
  get closed(): boolean {
    return this.#closed;
  }

  async write(text: string): Promise<void> {
    this.#throwFailure();
    if (this.#closed || text === "") return;
    await new Promise<void>((resolve) => {
      this.stream.write(text, (error) => {
        if (error) this.#note(error);
        resolve();
      });
    });
    this.#throwFailure();
  }

  #note(error: NodeJS.ErrnoException): void {
    this.#closed = true;
    const readerLeft = error.code === "EPIPE" || error.code === "ERR_STREAM_DESTROYED";
    if (!readerLeft) this.#failure ??= new OutputError(error.code ?? error.message, { cause: error });
  }

  #throwFailure(): void {
    if (this.#failure) throw this.#failure;
  }
}
