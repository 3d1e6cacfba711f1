/** First day that the times of a ZIP archive can tell, at midnight: 1980-01-01. */
const DAY = 0x0021;
const TIME = 0;
const END = 0x06054b50;
const ENTRY = 0x02014b50;

/**
 * A ZIP archive with the time of each file set to one fixed day, so that the same content gives the same bytes.
 *
 * @throws Error where the bytes are no ZIP archive
 * Source: APPNOTE of the ZIP format, sections 4.3.7, 4.3.12 and 4.3.16 [memory]. Check: checks/papers-readers
 */
export function fixZipTimes(archive: Uint8Array): Uint8Array {
  const fixed = archive.slice();
  const view = new DataView(fixed.buffer);
  let end = fixed.length - 22;
  while (end >= 0 && view.getUint32(end, true) !== END) end--;
  if (end < 0) throw new Error("Not a ZIP archive: it has no end.");
  let at = view.getUint32(end + 16, true);
  for (let left = view.getUint16(end + 10, true); left > 0; left--) {
    if (view.getUint32(at, true) !== ENTRY)
      throw new Error("Not a ZIP archive: its list of files is broken.");
    const local = view.getUint32(at + 42, true);
    for (const place of [at + 12, local + 10]) {
      view.setUint16(place, TIME, true);
      view.setUint16(place + 2, DAY, true);
    }
    at += 46 + view.getUint16(at + 28, true) + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return fixed;
}
