import { Writable } from "node:stream";
import { describe, expect, it } from "vitest";
import { OutputError, Writer } from "./writer.ts";

/** A stream that takes one chunk at a time and hands it over only when the test says so. */
class SlowReader extends Writable {
  taken: string[] = [];
  waiting: (() => void)[] = [];
  override _write(chunk: Buffer, _encoding: string, done: () => void): void {
    this.taken.push(chunk.toString());
    this.waiting.push(done);
  }
}

class BrokenReader extends Writable {
  constructor(private readonly code: string) {
    super();
  }
  override _write(_chunk: Buffer, _encoding: string, done: (error: Error) => void): void {
    done(Object.assign(new Error("write failed"), { code: this.code }));
  }
}

describe("Writer", () => {
  it("waits until the reader has taken the text", async () => {
    const reader = new SlowReader({ highWaterMark: 1 });
    const writer = new Writer(reader);
    let finished = false;
    const writing = writer.write("one\n").then(() => (finished = true));
    await Promise.resolve();
    expect(finished).toBe(false);
    reader.waiting.shift()?.();
    await writing;
    expect(reader.taken).toEqual(["one\n"]);
  });

  it("goes quiet when the reader leaves", async () => {
    const writer = new Writer(new BrokenReader("EPIPE"));
    await writer.write("one\n");
    expect(writer.closed).toBe(true);
    await expect(writer.write("two\n")).resolves.toBeUndefined();
  });

  it("reports a full disk", async () => {
    const writer = new Writer(new BrokenReader("ENOSPC"));
    await expect(writer.write("one\n")).rejects.toThrow(OutputError);
    await expect(writer.write("two\n")).rejects.toThrow("ENOSPC");
  });
});
