/** One line of a stream. `bytes` is null for a line longer than allowed: its bytes were not kept. */
export interface Line {
  /** 1-based. */
  readonly number: number;
  readonly bytes: Uint8Array | null;
}

const lineFeed = 0x0a;
const carriageReturn = 0x0d;

/**
 * Splits a stream of bytes into lines, holding no more than one line in memory. Line ends (LF or CR LF) are taken off; a
 * last line without one counts. A line of more than `longest` bytes is passed over, not kept.
 */
export async function* eachLine(
  chunks: AsyncIterable<Uint8Array>,
  { longest }: { readonly longest: number },
): AsyncGenerator<Line> {
  let number = 1;
  let kept: Uint8Array[] = [];
  let length = 0;
  const keep = (part: Uint8Array): void => {
    length += part.length;
    if (length > longest) kept = [];
    else if (part.length > 0) kept.push(part);
  };
  const line = (): Line => ({ number, bytes: length > longest ? null : withoutReturn(Buffer.concat(kept)) });
  for await (const chunk of chunks) {
    let start = 0;
    for (let end = chunk.indexOf(lineFeed); end >= 0; end = chunk.indexOf(lineFeed, start)) {
      keep(chunk.subarray(start, end));
      yield line();
      number += 1;
      kept = [];
      length = 0;
      start = end + 1;
    }
    keep(chunk.subarray(start));
  }
  if (length > 0) yield line();
}

function withoutReturn(bytes: Uint8Array): Uint8Array {
  return bytes.at(-1) === carriageReturn ? bytes.subarray(0, -1) : bytes;
}
