import { readYaml, watchYaml } from "../yaml/read-yaml.ts";

export type PlaceInText = readonly (string | number)[];

interface Mark {
  readonly path: PlaceInText;
  readonly part: "key" | "value";
  readonly offset: number;
}

/** Where a value of a file stands in its text, its key first where it has one. */
export interface ValueSpan {
  readonly keyFrom: number;
  readonly from: number;
  /** Behind its last character; a remark that follows is not part of it. */
  readonly to: number;
}

/** Where the values of a text stand; the text must be one that can be read. */
interface TextMap {
  readonly spanOf: (path: PlaceInText) => ValueSpan | null;
}

/** Where the values of a text stand; null where it cannot be read. */
export function textMap(text: string): TextMap | null {
  if (!readYaml(text).ok) return null;
  const marks: Mark[] = [];
  watchYaml(text, (path, part, offset) => {
    marks.push({ path: [...path], part, offset });
  });
  return { spanOf: (path) => spanOf(text, marks, path) };
}

function spanOf(text: string, marks: readonly Mark[], path: PlaceInText): ValueSpan | null {
  const within = marks.filter((mark) => path.every((step, at) => mark.path[at] === step));
  const own = within.filter((mark) => mark.path.length === path.length);
  const value = own.find(({ part }) => part === "value");
  if (value === undefined) return null;
  const key = own.find(({ part }) => part === "key");
  const values = within.filter(({ part }) => part === "value");
  // A block ends where the last of what is in it ends.
  const ends = values
    .filter(
      (one) => isInFlow(text, one.offset) || !values.some(({ path: inner }) => isInside(inner, one.path)),
    )
    .map(({ offset }) => endOfValue(text, offset));
  return { keyFrom: key?.offset ?? value.offset, from: value.offset, to: Math.max(...ends) };
}

function isInside(inner: PlaceInText, outer: PlaceInText): boolean {
  return inner.length > outer.length && outer.every((step, at) => inner[at] === step);
}

function isInFlow(text: string, at: number): boolean {
  return text[at] === "{" || text[at] === "[";
}

/** Behind a value in flow style or a scalar on one line. */
function endOfValue(text: string, from: number): number {
  const first = text[from];
  if (first === "{" || first === "[") return endOfBrackets(text, from);
  if (first === '"' || first === "'") return endOfQuote(text, from);
  const rest = text.slice(from);
  const end = /[ \t]*(?:[,\]}](?=[\s,\]}]|$)|[ \t]#|\r?\n|$)/u.exec(rest);
  return from + (end?.index ?? rest.length);
}

function endOfBrackets(text: string, from: number): number {
  let depth = 0;
  for (let at = from; at < text.length; at++) {
    const one = text[at]!;
    // Within a word a quote is a letter.
    if ((one === '"' || one === "'") && /[\s,[{:]/u.test(text[at - 1]!)) at = endOfQuote(text, at) - 1;
    else if (one === "#" && /\s/u.test(text[at - 1]!)) at = endOfLine(text, at) - 1;
    else if (one === "{" || one === "[") depth++;
    else if ((one === "}" || one === "]") && --depth === 0) return at + 1;
  }
  return text.length;
}

function endOfQuote(text: string, from: number): number {
  const quote = text[from];
  for (let at = from + 1; at < text.length; at++) {
    if (quote === '"' && text[at] === "\\") at++;
    else if (text[at] === quote) {
      if (quote === "'" && text[at + 1] === "'") at++;
      else return at + 1;
    }
  }
  return text.length;
}

/** The offset of the end of the line, before its line break. */
export function endOfLine(text: string, from: number): number {
  const end = text.indexOf("\n", from);
  return end === -1 ? text.length : end;
}
