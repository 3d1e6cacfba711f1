import { type Advice, type AdvisedPlan, drawNoticeCurve, hoursWords, type Sourced } from "@earthbell/engine";
import { Drawn } from "../drawing/drawing.tsx";
import { SourceNote } from "../page/source-note.tsx";
import { State } from "../page/state.tsx";

const ALARM = {
  required: ["must", "An alarm is required"],
  "not-required": ["proven", "No alarm is required"],
  undecided: ["unsure", "Undecided"],
} as const;

const signalsOf = ({ signals }: AdvisedPlan): string => signals.join(" and ");
const within = (hours: number | null): string => (hours === null ? "not within 28 days" : hoursWords(hours));
const percent = (share: number): string => `${(100 * share).toFixed(share < 0.1 ? 1 : 0)} %`;

/** The answer so far in a few lines, beside the questions. */
export function Short({ advice }: { readonly advice: Advice }) {
  const [best] = advice.plans;
  return (
    <div className="flow">
      <p className="lead">
        <State state={ALARM[advice.duty.alarm][0]} word={ALARM[advice.duty.alarm][1]} />
      </p>
      {best === undefined ? (
        <p className="soft">No signal can be planned yet.</p>
      ) : (
        <p>
          Best: <strong>{signalsOf(best)}</strong>. Half of faults known within{" "}
          {within(best.notice.medianHours)}, 95 % within {within(best.notice.p95Hours)}.
        </p>
      )}
      {advice.open.length === 0 ? (
        <p className="soft">Every question is answered.</p>
      ) : (
        <p className="soft">
          {advice.open.length === 1 ? "One question is" : `${advice.open.length} questions are`} open.{" "}
          <a href={`#ask-${advice.next ?? ""}`}>To the one worth most</a>
        </p>
      )}
    </div>
  );
}

function List({ items }: { readonly items: readonly Sourced<string>[] }) {
  return (
    <ul className="plain index">
      {items.map(({ value, source, tag }) => (
        <li key={value} className="noted">
          <p>{value}</p>
          <SourceNote source={source} tag={tag} />
        </li>
      ))}
    </ul>
  );
}

/** The whole answer: duty and why, plans side by side, what to set, test and tell. */
export function Full({ advice }: { readonly advice: Advice }) {
  const { duty, plans, notPlanned, undecided, cautions, endToEnd, instructions, tellOwner, assumed } = advice;
  return (
    <>
      <section className="flow later">
        <h2>Duty</h2>
        <List items={duty.reasons.map(({ text, source, tag }) => ({ value: text, source, tag }))} />
        {undecided.map(({ decision, waitsFor }) => (
          <p key={decision}>
            <State state="unsure" /> {decision}: waits for {waitsFor.join(", ")}.
          </p>
        ))}
      </section>
      {plans.length === 0 ? null : <Plans plans={plans} />}
      {notPlanned.map(({ signal, why }) => (
        <p key={signal}>
          Not planned, {signal}: {why}
        </p>
      ))}
      {instructions.length === 0 ? null : (
        <section className="flow later">
          <h2>Before any test</h2>
          <List items={cautions.map(({ text, source, tag }) => ({ value: text, source, tag }))} />
          <h2>Prove the whole way</h2>
          <List items={[endToEnd]} />
        </section>
      )}
      {instructions.map(({ signal, set, test, tell }) => (
        <section key={signal} className="flow later">
          <h2>By {signal}</h2>
          <h3>Set</h3>
          <List items={set} />
          <h3>Test</h3>
          <List items={test} />
          <h3>Tell</h3>
          <List items={tell} />
        </section>
      ))}
      {instructions.length === 0 ? null : (
        <section className="flow later">
          <h2>Tell the owner in writing</h2>
          <List items={tellOwner} />
        </section>
      )}
      {assumed.length === 0 ? null : (
        <details>
          <summary>Taken for granted, {assumed.length}</summary>
          <List items={assumed.map(({ text, source, tag }) => ({ value: text, source, tag }))} />
        </details>
      )}
    </>
  );
}

const MOST_CURVES = 4;

function Plans({ plans }: { readonly plans: readonly AdvisedPlan[] }) {
  const answers = plans.slice(0, MOST_CURVES).map((plan) => ({ name: signalsOf(plan), answer: plan.notice }));
  return (
    <section className="flow later">
      <h2>Ways to be told</h2>
      <Drawn
        most={672}
        draw={(width) => drawNoticeCurve({ title: "Share of faults not yet noticed", answers, width })}
      />
      <div className="scroll" role="region" aria-label="Plans" tabIndex={0}>
        <table>
          <thead>
            <tr>
              <th scope="col">Signals</th>
              <th scope="col">Half known</th>
              <th scope="col">Unknown after a day</th>
              <th scope="col">Hours to build</th>
              <th scope="col">Hours a year</th>
              <th scope="col">Parts</th>
            </tr>
          </thead>
          <tbody>
            {plans.map((plan) => (
              <tr key={signalsOf(plan)}>
                <th scope="row">
                  {signalsOf(plan)}
                  {plan.accepted ? "" : ", which the rule does not accept"}
                  {plan.serves ? "" : ", too late to be called an alarm"}
                </th>
                <td className="number">{within(plan.notice.medianHours)}</td>
                <td className="number">{percent(plan.notice.unnoticedAfter24h)}</td>
                <td className="number">{plan.effort.value.hours.join("–")}</td>
                <td className="number">{plan.effort.value.yearlyHours.join("–")}</td>
                <td>{plan.effort.value.partsAre}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
