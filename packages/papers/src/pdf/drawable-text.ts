import { holdUnits } from "@earthbell/engine";
import type { Draws } from "./glyph-coverage.ts";

const STAND_IN = "□";
/** Marks that have no picture and only steer their neighbours. */
const INVISIBLE = /[\p{Default_Ignorable_Code_Point}\p{Cc}]/gu;
/** Steering of reading order, which could make a name pass for another one. */
const REORDERING = /[\u202a-\u202e\u2066-\u2069]/gu;

/** A text without what could reorder the words around it, in which no line ends between a number and its unit. */
export function plainText(text: string): string {
  return holdUnits(text.replace(REORDERING, ""));
}

/** Rewrites texts so that a font can draw them, and remembers which characters it could not. */
export class DrawableText {
  readonly #missing = new Set<number>();

  constructor(private readonly draws: Draws) {}

  of(text: string): string {
    let written = "";
    for (const character of text.normalize("NFC")) {
      const codePoint = character.codePointAt(0)!;
      if (character === "\n" || this.draws(codePoint)) written += character;
      else if (character.search(INVISIBLE) < 0) {
        this.#missing.add(codePoint);
        written += STAND_IN;
      }
    }
    return plainText(written);
  }

  /** `U+6F22 U+5B57`, or nothing. */
  get missing(): string {
    return [...this.#missing]
      .sort((one, other) => one - other)
      .map((codePoint) => `U+${codePoint.toString(16).toUpperCase().padStart(4, "0")}`)
      .join(" ");
  }
}
