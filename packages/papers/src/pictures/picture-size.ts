/** Pixels of a picture as it is stored, before it is turned. */
export interface PictureSize {
  readonly width: number;
  readonly height: number;
}

/**
 * The size that a JPEG, PNG or WebP states in its head, so that a picture too large to be unpacked is known before.
 *
 * @returns null where the head states none
 * Source: the published formats (JPEG: ITU-T T.81, PNG: ISO/IEC 15948, WebP: RFC 9649), from memory.
 * Check: picture-size.test.ts, against the sizes that the decoders give
 */
export function pictureSize(kind: string | null, bytes: Uint8Array): PictureSize | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  try {
    switch (kind) {
      case "image/jpeg":
        return jpegSize(view);
      case "image/png":
        return { width: view.getUint32(16), height: view.getUint32(20) };
      case "image/webp":
        return webpSize(view);
      default:
        return null;
    }
  } catch (error) {
    // The head ends before the size.
    if (error instanceof RangeError) return null;
    throw error;
  }
}

const START_OF_SCAN = 0xda;
/** Markers of the range of frame headers that are something else: tables, an extension, arithmetic conditioning. */
const NO_FRAME: readonly number[] = [0xc4, 0xc8, 0xcc];

/** Goes from segment to segment up to the header of the frame. */
function jpegSize(view: DataView): PictureSize | null {
  for (let at = 2; view.getUint8(at) === 0xff; ) {
    const marker = view.getUint8(at + 1);
    if (marker === 0xff) {
      at++;
      continue;
    }
    if (marker === START_OF_SCAN) return null;
    if (marker >= 0xc0 && marker <= 0xcf && !NO_FRAME.includes(marker))
      return { height: view.getUint16(at + 5), width: view.getUint16(at + 7) };
    at += 2 + view.getUint16(at + 2);
  }
  return null;
}

function webpSize(view: DataView): PictureSize | null {
  const chunk = String.fromCharCode(...[12, 13, 14, 15].map((at) => view.getUint8(at)));
  const three = (at: number): number => view.getUint16(at, true) + view.getUint8(at + 2) * 0x10000;
  switch (chunk) {
    case "VP8X":
      return { width: three(24) + 1, height: three(27) + 1 };
    case "VP8 ":
      return { width: view.getUint16(26, true) & 0x3fff, height: view.getUint16(28, true) & 0x3fff };
    case "VP8L": {
      const bits = view.getUint32(21, true);
      return { width: (bits & 0x3fff) + 1, height: ((bits >>> 14) & 0x3fff) + 1 };
    }
    default:
      return null;
  }
}
