import { type Alarm, SIGNS } from "@earthbell/model";
import { FaultText } from "./fault-text.tsx";
import { type CaseStepProps, stepCase } from "./case-step.ts";
import { useStep } from "./use-step.ts";

interface Props extends CaseStepProps {
  readonly alarms: readonly Alarm[];
}

/** Answering for the case: first what it does and does not do, then the button. */
export function CaseAcknowledge({ one, me, done, alarms }: Props) {
  const { busy, fault, said, take } = useStep();
  const waiting = alarms.filter(({ acknowledged, occurrence }) => acknowledged === null && occurrence > 0);
  return (
    <section className={waiting.length === 0 ? "flow" : "flow controls"}>
      <h2>Acknowledge</h2>
      {waiting.length === 0 ? (
        <p className="soft">Every sign of this case has been answered.</p>
      ) : (
        <>
          <p>When you press the button:</p>
          <ul>
            <li>
              {me.name} is recorded as the person who answered{" "}
              {waiting.map(({ sign }) => `“${SIGNS[sign].title}”`).join(" and ")}.
            </li>
            <li>Paths that repeat until somebody acknowledges stop repeating, and tell nobody further.</li>
            <li>
              Nothing is repaired: the fault stays, and the case stays open until it is signed and closed.
            </li>
          </ul>
          <button
            type="button"
            className="main"
            disabled={busy}
            onClick={() => {
              take(async () => await stepCase(one, { step: "acknowledge" }), done);
            }}
          >
            Acknowledge as {me.name}
          </button>
        </>
      )}
      <FaultText fault={fault} />
      {said === null ? null : <p>{said}</p>}
    </section>
  );
}
