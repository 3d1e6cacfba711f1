/** An alarm state: a mark, a word and a colour (after IEC 60073), each telling it alone. */
const STATES = {
  fault: { mark: "▲", word: "Fault" },
  unsure: { mark: "◆", word: "Unsure" },
  must: { mark: "■", word: "Do this" },
  proven: { mark: "●", word: "Proven" },
  none: { mark: "○", word: "Not asked" },
} as const;

export type StateName = keyof typeof STATES;

export function State({ state, word }: { readonly state: StateName; readonly word?: string }) {
  return (
    <strong className={`state ${state}`}>
      <span aria-hidden="true">{STATES[state].mark}</span> {word ?? STATES[state].word}
    </strong>
  );
}
