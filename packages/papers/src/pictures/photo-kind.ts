/** What a picture begins with, by media type. Source of each: the published format, from memory. */
const ISO_BRANDS: Readonly<Record<string, string>> = {
  heic: "image/heic",
  heix: "image/heic",
  mif1: "image/heic",
  avif: "image/avif",
};

/** Media type of a picture by its first bytes; null for everything else, whatever it calls itself. */
export function photoKind(bytes: Uint8Array): string | null {
  const text = (from: number, to: number): string => String.fromCharCode(...bytes.subarray(from, to));
  if (bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff) return "image/jpeg";
  if (text(0, 8) === "\u0089PNG\r\n\u001a\n") return "image/png";
  if (text(0, 4) === "RIFF" && text(8, 12) === "WEBP") return "image/webp";
  return text(4, 8) === "ftyp" ? (ISO_BRANDS[text(8, 12)] ?? null) : null;
}
