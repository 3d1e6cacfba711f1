/** What a code means and what to do about it, for a person who has never seen it. */
export interface CodePage {
  readonly title: string;
  readonly meaning: string;
  readonly next: string;
}

/** A step that was not taken. Nothing has changed; the text says what was wrong and what to do. */
export interface Refusal<Code extends string = string> {
  readonly code: Code;
  readonly text: string;
}

/** A refused step. */
export interface Refused<Code extends string> {
  readonly ok: false;
  readonly refusal: Refusal<Code>;
}

export function refused<Code extends string>(code: Code, text: string): Refused<Code> {
  return { ok: false, refusal: { code, text } };
}

/** A name or a text that somebody gave, without blanks around it; null where there is nothing in it. */
export function given(text: string): string | null {
  const trimmed = text.trim();
  return trimmed === "" ? null : trimmed;
}
