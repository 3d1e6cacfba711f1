import type { FaultCode } from "../faults/catalogue.ts";

export type DecodedText =
  | { readonly ok: true; readonly text: string }
  | {
      readonly ok: false;
      readonly code: FaultCode;
      readonly offset: number;
      readonly text: string;
      readonly message: string;
    };

// Everything below space but tab and line ends; editors do not show these.
const CONTROL = /[\0-\x08\x0B\x0C\x0E-\x1F\x7F]/u;

/** Turns bytes or text into clean text: UTF-8 only, no control characters, line ends as \n, a byte order mark removed. */
export function decodeText(source: string | Uint8Array): DecodedText {
  const decoded = typeof source === "string" ? source : decodeUtf8(source);
  if (decoded === null) {
    const message = utf16(source as Uint8Array) ? "The file is in UTF-16." : "The bytes are not UTF-8 text.";
    return { ok: false, code: "INPUT_ENCODING_NOT_UTF8", offset: -1, text: "", message };
  }
  const text = decoded.replace(/^\uFEFF/u, "").replace(/\r\n?/gu, "\n");
  const control = CONTROL.exec(text);
  if (!control) return { ok: true, text };
  const hex = text.charCodeAt(control.index).toString(16).toUpperCase().padStart(4, "0");
  const message = `The control character U+${hex} is in the text.`;
  return { ok: false, code: "INPUT_CHARACTER_NOT_ALLOWED", offset: control.index, text, message };
}

function decodeUtf8(bytes: Uint8Array): string | null {
  if (utf16(bytes)) return null;
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}

/** A UTF-16 byte order mark, or every other one of the first bytes zero. */
function utf16(bytes: Uint8Array): boolean {
  const [first, second, third, fourth] = bytes;
  if ((first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff)) return true;
  return bytes.length >= 4 && ((first === 0 && third === 0) || (second === 0 && fourth === 0));
}
