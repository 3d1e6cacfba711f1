import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { eachLine } from "./lines.ts";

async function linesOf(chunks: readonly string[], longest = 100): Promise<(string | null)[]> {
  async function* stream(): AsyncGenerator<Uint8Array> {
    for (const chunk of chunks) yield await Promise.resolve(Buffer.from(chunk));
  }
  const texts: (string | null)[] = [];
  for await (const { bytes, number } of eachLine(stream(), { longest })) {
    expect(number).toBe(texts.length + 1);
    texts.push(bytes === null ? null : Buffer.from(bytes).toString());
  }
  return texts;
}

describe("eachLine", () => {
  it.each([
    { chunks: ["a\nb\n"], lines: ["a", "b"], why: "the last line end starts no new line" },
    { chunks: ["a\nb"], lines: ["a", "b"], why: "a last line without an end counts" },
    { chunks: ["a\r\nb\r\n"], lines: ["a", "b"], why: "CR LF is one line end" },
    { chunks: ["a\r", "\nb"], lines: ["a", "b"], why: "also across chunks" },
    { chunks: ["a\n\nb"], lines: ["a", "", "b"], why: "an empty line is a line" },
    { chunks: [], lines: [], why: "nothing has no lines" },
    { chunks: ["Ω".repeat(40) + "\nb"], lines: ["Ω".repeat(40), "b"], why: "bytes are counted" },
    {
      chunks: ["x".repeat(60), "x".repeat(60) + "\nb"],
      lines: [null, "b"],
      why: "a long line is passed over",
    },
  ])("$why", async ({ chunks, lines }) => {
    expect(await linesOf(chunks)).toEqual(lines);
  });

  it("does not depend on where the stream is cut", async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.stringMatching(/^[ab\n]{0,6}$/u)), async (chunks) => {
        const whole = chunks.join("");
        expect(await linesOf(chunks)).toEqual(await linesOf(whole === "" ? [] : [whole]));
      }),
    );
  });
});
