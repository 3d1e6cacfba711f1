import { describe, expect, it } from "vitest";
import { photoKind } from "./photo-kind.ts";
import { pictureSize } from "./picture-size.ts";

const bytes = (hex: string): Uint8Array => Uint8Array.from(Buffer.from(hex, "hex"));
const sizeOf = (hex: string) => pictureSize(photoKind(bytes(hex)), bytes(hex));

describe("the size that a picture states", () => {
  it("is read from a JPEG behind its other segments", () => {
    // A segment of six bytes, one of tables, then the header of a progressive frame: 0x0bb8 lines of 0x0fa0 points (T.81, B.2.2).
    const head = "ffd8" + "ffe1000645786966" + "ffc4000300" + "ffc2001108" + "0bb8" + "0fa0" + "03";
    expect(sizeOf(head)).toEqual({ width: 4000, height: 3000 });
  });

  it("is read from a PNG, and from the three kinds of WebP", () => {
    // ISO/IEC 15948, 11.2.2: width and height follow the name of the first chunk.
    expect(sizeOf("89504e470d0a1a0a" + "0000000d49484452" + "00000280" + "000001e0")).toEqual({
      width: 640,
      height: 480,
    });
    const riff = "52494646" + "00000000" + "57454250";
    // RFC 9649, 2.7, 2.5 and 2.6: 640 × 480 each, less one where the format counts from nothing.
    const extended = riff + "56503858" + "0a000000" + "00000000" + "7f0200" + "df0100";
    const lossy = riff + "56503820" + "00000000" + "000000" + "9d012a" + "8002" + "e001";
    const lossless = riff + "5650384c" + "00000000" + "2f" + "7fc27700" + "00";
    for (const kind of [extended, lossy, lossless]) expect(sizeOf(kind)).toEqual({ width: 640, height: 480 });
  });

  it("is unknown where the head is cut short or the kind is another one", () => {
    expect(sizeOf("ffd8ffe10006")).toBeNull();
    expect(sizeOf("89504e470d0a1a0a0000")).toBeNull();
    expect(pictureSize("image/heic", bytes("00000018667479706865696300000000"))).toBeNull();
    expect(photoKind(Uint8Array.from(Buffer.from("<svg onload=x>")))).toBeNull();
  });
});
