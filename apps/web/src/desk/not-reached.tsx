import { State } from "../page/state.tsx";
import { instantWords } from "./instant.ts";
import { currentSession, findSession } from "./session.ts";
import { useStep } from "./use-step.ts";

/** Says over what this device keeps that nothing is known of the sites, and asks the desk again. */
export function NotReached() {
  const { busy, said, take } = useStep();
  return (
    <div className="page unheard flow">
      <p role="status">
        <State state="unsure" word="Desk not reached" /> Below is what this device keeps. What needs a person
        at the sites is not known while the desk is not reached: no word of a fault here does not mean that
        there is none.
      </p>
      <p>
        This page asks again by itself. Look whether this device has signal; if others do not reach the desk
        either, see that it runs.
      </p>
      <p>
        <button
          type="button"
          disabled={busy}
          onClick={() => {
            take(async () => {
              await findSession();
              return currentSession().state === "unreachable"
                ? `Asked ${instantWords(Date.now())}: no answer.`
                : null;
            });
          }}
        >
          Ask the desk now
        </button>
      </p>
      {said === null ? null : <p className="soft">{said}</p>}
    </div>
  );
}
