import { drawHistory, headlineOf, type ReadHistory } from "@earthbell/engine";
import { Drawn } from "../drawing/drawing.tsx";
import { HeadlineText } from "../drift/headline-text.tsx";
import { Asking } from "../page/asking.tsx";
import { FaultText } from "./fault-text.tsx";
import { useAnswer } from "./use-answer.ts";

/** What the insulation of an array did, morning by morning, and what that says. */
export function InsulationHistory({ site, array }: { readonly site: string; readonly array: string }) {
  const path = `/api/sites/${encodeURIComponent(site)}/arrays/${encodeURIComponent(array)}/history`;
  const { value, fault } = useAnswer<ReadHistory>(path, []);
  return (
    <section className="flow">
      <h2>Insulation of {array}</h2>
      <FaultText fault={fault} />
      {value === undefined && fault === null ? <Asking /> : null}
      {value === undefined ? null : value.mornings.length === 0 ? (
        <p className="soft">
          No reading has been taken in yet. The desk notes the insulation of each morning once a device tells
          it, or once a table of readings is handed in.
        </p>
      ) : (
        <>
          <p>
            <HeadlineText headline={headlineOf(value.finding)} />
          </p>
          <p>{value.finding.evidence}</p>
          <ul>
            {value.finding.advice.map(({ text }) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
          <div className="scroll" role="region" aria-label={`Drawing of ${array}`} tabIndex={0}>
            <Drawn draw={(width) => drawHistory(value, width)} />
          </div>
        </>
      )}
    </section>
  );
}
