import type { DeskWatchCode } from "@earthbell/model";
import type { Answer, NotDone } from "./watch.ts";

export function notDone(code: DeskWatchCode, text: string): NotDone {
  return { ok: false, refusal: { code, text } };
}

export function done<More extends object>(text: string, more: More): Answer<More> {
  return { ok: true, text, ...more };
}
