import { useId, useState } from "react";
import { FaultText } from "./fault-text.tsx";
import { type CaseStepProps, stepCase } from "./case-step.ts";
import { instantWords } from "./instant.ts";
import { LongText } from "./long-text.tsx";
import { useStep } from "./use-step.ts";

/** Signing what was found to be the cause, once the fault is gone. */
export function CaseSign({ one, me, done }: CaseStepProps) {
  const there = one.presentAlarms.length > 0;
  return (
    <section className="flow">
      <h2>Sign the cause</h2>
      {one.cause === null ? null : (
        <p>
          Signed by {one.cause.by}, {instantWords(one.cause.at)}: {one.cause.cause}
        </p>
      )}
      {me.role === "installer" ? (
        <p className="soft">A technician or service engineer signs the cause.</p>
      ) : there ? (
        <p className="soft">
          The fault is still there, so nobody can know yet what its cause was. Signing opens once its alarms
          have cleared.
        </p>
      ) : (
        <SignForm {...{ one, me, done }} />
      )}
    </section>
  );
}

function SignForm({ one, me, done }: CaseStepProps) {
  const id = useId();
  const [cause, setCause] = useState("");
  const [repaired, setRepaired] = useState("");
  const { busy, fault, said, take } = useStep();
  return (
    <form
      className="flow"
      onSubmit={(event) => {
        event.preventDefault();
        const repairedAt = repaired === "" ? null : new Date(repaired).getTime();
        take(async () => await stepCase(one, { step: "sign-cause", cause, repairedAt }), done);
      }}
    >
      <LongText words="What was found to be the cause" value={cause} typed={setCause} />
      <div className="field narrow">
        <label htmlFor={id}>Repaired</label>
        <input
          id={id}
          type="datetime-local"
          value={repaired}
          aria-describedby={`${id}-hint`}
          onChange={(event) => {
            setRepaired(event.currentTarget.value);
          }}
        />
        <span id={`${id}-hint`} className="hint">
          your local time; blank where nothing had to be repaired
        </span>
      </div>
      <button type="submit" disabled={busy || cause.trim() === ""}>
        Sign as {me.name}
      </button>
      <FaultText fault={fault} />
      {said === null ? null : <p>{said}</p>}
    </form>
  );
}
