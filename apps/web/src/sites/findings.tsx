import type { AssessmentFinding } from "@earthbell/engine";
import { State, type StateName } from "../page/state.tsx";

const STATES: Readonly<Record<AssessmentFinding["severity"], readonly [StateName, string] | null>> = {
  fault: ["fault", "Fault"],
  caution: ["unsure", "Caution"],
  note: null,
};
const ORDER = ["fault", "caution", "note"] as const;

/** Findings, the gravest first, each with its source in the margin. */
export function Findings({ findings }: { readonly findings: readonly AssessmentFinding[] }) {
  const sorted = findings.toSorted((a, b) => ORDER.indexOf(a.severity) - ORDER.indexOf(b.severity));
  return (
    <ul className="plain index">
      {sorted.map(({ code, severity, text, source, tag }) => {
        const state = STATES[severity];
        return (
          <li key={code + text} className="noted">
            <p>
              {state === null ? null : <State state={state[0]} word={state[1]} />} {text}
            </p>
            <p className="note">
              <span className="figure">{code}</span>
              {source === undefined ? null : (
                <>
                  <br />
                  {source} ({tag})
                </>
              )}
            </p>
          </li>
        );
      })}
    </ul>
  );
}
