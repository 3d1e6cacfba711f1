import { type FieldFaults, idOfField } from "./field-faults.ts";
import { useOpenFolds } from "../page/open-folds.ts";

const MOST = 12;

/** What still has to be given or put right, each leading to its field. */
export function WhatIsMissing({
  faults,
  nameOf,
}: {
  readonly faults: FieldFaults;
  readonly nameOf: (at: string) => string;
}) {
  const { reach } = useOpenFolds();
  if (faults.size === 0) return null;
  const all = [...faults];
  return (
    <section className="flow">
      <h2>Missing or wrong: {faults.size}</h2>
      <ul className="plain">
        {all.slice(0, MOST).map(([at, words]) => (
          <li key={at}>
            <button
              type="button"
              className="word"
              onClick={() => {
                reach(idOfField(at));
              }}
            >
              {nameOf(at)}
            </button>{" "}
            <span className="soft">{words}</span>
          </li>
        ))}
      </ul>
      {all.length > MOST ? <p className="soft">And {all.length - MOST} more.</p> : null}
    </section>
  );
}
