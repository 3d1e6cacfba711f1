import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Draws } from "@earthbell/papers";

/** Fonts for what the first font of papers lacks: some hundred small files, which are not touched before a text needs them. */
export interface OtherFonts {
  readonly draws: Draws;
  /** Whose ideographs a text should get, where it has characters that the first font lacks and these have. */
  readonly orderFor: (text: string) => ScriptOrder | undefined;
  /** Paths of all these fonts, the preferred ones first. */
  readonly paths: (order: ScriptOrder) => readonly string[];
}

interface OtherFont {
  readonly script: Script;
  readonly file: string;
  readonly spans: readonly (readonly [from: number, to: number])[];
}

type Script = "chinese" | "japanese" | "korean" | "emoji";

/** Chinese, Japanese and Korean share ideographs and draw some differently; the letters beside them tell whose they are. */
export type ScriptOrder = "chinese" | "japanese" | "korean";

const ORDERS: Readonly<Record<ScriptOrder, readonly Script[]>> = {
  chinese: ["chinese", "japanese", "korean", "emoji"],
  japanese: ["japanese", "chinese", "korean", "emoji"],
  korean: ["korean", "chinese", "japanese", "emoji"],
};
const KANA = /[\u3041-\u30ff\u31f0-\u31ff\uff66-\uff9d]/u;
const HANGUL = /[\uac00-\ud7a3]/u;

/** Beside the bundled program, or in a checkout where the build put them. */
const FOLDERS = ["fonts/other/", "../../../../dist/fonts/other/"];

/**
 * The fonts beside those of the program, found by their index, which is read when the first character asks for it. Where they
 * are not installed, nothing is drawn by them.
 *
 * @param first  what the first font draws; no other is asked for that
 */
export function otherFonts(first: Draws): OtherFonts {
  const folder = FOLDERS.map((path) => fileURLToPath(new URL(path, import.meta.url))).find((path) =>
    existsSync(join(path, "index.json")),
  );
  let read: readonly OtherFont[] | undefined;
  const fonts = (): readonly OtherFont[] => (read ??= folder === undefined ? [] : readIndex(folder));
  const draws = (codePoint: number): boolean => fonts().some((font) => holds(font, codePoint));
  return {
    draws,
    orderFor: (text) => {
      if (!codePointsBeyondAscii(text).some((one) => !first(one) && draws(one))) return undefined;
      if (KANA.test(text)) return "japanese";
      return HANGUL.test(text) ? "korean" : "chinese";
    },
    paths: (order) =>
      ORDERS[order].flatMap((script) =>
        fonts().flatMap((font) => (font.script === script ? [join(folder!, font.file)] : [])),
      ),
  };
}

function readIndex(folder: string): readonly OtherFont[] {
  const { fonts } = JSON.parse(readFileSync(join(folder, "index.json"), "utf8")) as {
    readonly fonts: readonly OtherFont[];
  };
  return fonts;
}

function holds({ spans }: OtherFont, codePoint: number): boolean {
  return spans.some(([from, to]) => codePoint >= from && codePoint <= to);
}

function codePointsBeyondAscii(text: string): readonly number[] {
  return [...new Set(text.match(/[^\p{ASCII}]/gu))].map((character) => character.codePointAt(0)!);
}
