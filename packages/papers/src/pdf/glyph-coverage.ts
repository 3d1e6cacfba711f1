/** Whether a font, or any of several, has a picture for a character. */
export type Draws = (codePoint: number) => boolean;

/** Characters from one code point to another, both included. */
interface Span {
  readonly from: number;
  readonly to: number;
}

/** What a TrueType font can draw. @throws Error where the bytes are no TrueType font with a table of characters */
export function glyphCoverage(font: Uint8Array): Draws {
  const spans = characterSpans(font);
  return (codePoint) => spans.some(({ from, to }) => codePoint >= from && codePoint <= to);
}

/**
 * The characters a TrueType font can draw, read from its own table (cmap, formats 4 and 12).
 *
 * @throws Error where the bytes are no TrueType font with such a table
 * Source: layout of the table, OpenType specification [published]. Check: checks/papers-readers: a name whose characters are missing
 */
export function characterSpans(font: Uint8Array): readonly Span[] {
  const view = new DataView(font.buffer, font.byteOffset, font.byteLength);
  const cmap = tableOffset(view, "cmap");
  const subtables = Array.from({ length: view.getUint16(cmap + 2) }, (_, index) => {
    const start = cmap + view.getUint32(cmap + 4 + 8 * index + 4);
    return { start, format: view.getUint16(start) };
  });
  const wide = subtables.find(({ format }) => format === 12);
  const narrow = subtables.find(({ format }) => format === 4);
  if (wide) return wideSpans(view, wide.start);
  return narrow ? narrowSpans(view, narrow.start) : fail("no character table of format 4 or 12");
}

function tableOffset(view: DataView, wanted: string): number {
  const tables = view.byteLength < 12 ? 0 : view.getUint16(4);
  for (let index = 0; index < tables; index++) {
    const entry = 12 + 16 * index;
    const tag = String.fromCharCode(...[0, 1, 2, 3].map((byte) => view.getUint8(entry + byte)));
    if (tag === wanted) return view.getUint32(entry + 8);
  }
  return fail(`no table ${wanted}`);
}

function wideSpans(view: DataView, start: number): readonly Span[] {
  return Array.from({ length: view.getUint32(start + 12) }, (_, group) => {
    const at = start + 16 + 12 * group;
    return { from: view.getUint32(at), to: view.getUint32(at + 4) };
  });
}

function narrowSpans(view: DataView, start: number): readonly Span[] {
  const segments = view.getUint16(start + 6) / 2;
  return Array.from({ length: segments }, (_, segment) => ({
    to: view.getUint16(start + 14 + 2 * segment),
    from: view.getUint16(start + 16 + 2 * (segments + segment)),
  }));
}

function fail(why: string): never {
  throw new Error(`Not a font that papers can be set in: ${why}.`);
}
