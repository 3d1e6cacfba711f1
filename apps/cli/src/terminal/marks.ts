import type { Page } from "./page.ts";

/** The four alarm states and two quiet ones. Each has a shape and a word of its own, so colour is never needed. */
export type State = "fault" | "unsure" | "do-this" | "proven" | "not-asked" | "note";

const shapes: Readonly<Record<State, { readonly shape: string; readonly ascii: string }>> = {
  fault: { shape: "▲", ascii: "^" },
  unsure: { shape: "◆", ascii: "?" },
  "do-this": { shape: "■", ascii: "#" },
  proven: { shape: "●", ascii: "*" },
  "not-asked": { shape: "○", ascii: "o" },
  note: { shape: "·", ascii: "-" },
};

/** `▲ falls short`: the state's shape and the word, in the state's ink. */
export function marked(state: State, word: string, page: Page): string {
  return inkOf(state, page)(markedPlain(state, word, page));
}

export function markedPlain(state: State, word: string, page: Page): string {
  const { shape, ascii } = shapes[state];
  return `${page.ascii ? ascii : shape} ${word}`;
}

export function inkOf(state: State, { style }: Page): (text: string) => string {
  switch (state) {
    case "fault":
      return style.fault;
    case "unsure":
      return style.unsure;
    case "do-this":
      return style.doThis;
    case "proven":
      return style.proven;
    case "not-asked":
    case "note":
      return (text) => text;
  }
}
