import { needsToClose } from "@earthbell/model";
import { useState } from "react";
import { State } from "../page/state.tsx";
import { type CaseStepProps, stepCase } from "./case-step.ts";
import { FaultText } from "./fault-text.tsx";
import { LongText } from "./long-text.tsx";
import { useStep } from "./use-step.ts";

/** What a case needs before it closes, met or not, and the close itself. */
export function CaseClose({ one, me, done }: CaseStepProps) {
  const { busy, fault, said, take } = useStep();
  return (
    <section className="flow">
      <h2>Close</h2>
      <ul className="plain index">
        {needsToClose(one).map(({ need, met, text }) => (
          <li key={need}>
            <p>
              <State state={met ? "proven" : "must"} word={met ? "Done" : "Missing"} /> {text}
            </p>
          </li>
        ))}
      </ul>
      {me.role === "installer" ? (
        <p className="soft">A technician or service engineer closes the case.</p>
      ) : (
        <button
          type="button"
          disabled={busy}
          onClick={() => {
            take(async () => await stepCase(one, { step: "close" }), done);
          }}
        >
          Close the case as {me.name}
        </button>
      )}
      <FaultText fault={fault} />
      {said === null ? null : <p>{said}</p>}
    </section>
  );
}

/** A remark, which can be added after the close as well. */
export function CaseRemark({ one, done }: CaseStepProps) {
  const [text, setText] = useState("");
  const { busy, fault, said, take } = useStep();
  return (
    <section className="flow controls">
      <h2>Remark</h2>
      <form
        className="flow"
        onSubmit={(event) => {
          event.preventDefault();
          take(
            async () => {
              await stepCase(one, { step: "remark", text });
              return "The remark is on record.";
            },
            () => {
              setText("");
              done();
            },
          );
        }}
      >
        <LongText words="Remark for everybody who works on this case" value={text} typed={setText} />
        <button type="submit" disabled={busy || text.trim() === ""}>
          Add the remark
        </button>
        <FaultText fault={fault} />
        {said === null ? null : <p>{said}</p>}
      </form>
    </section>
  );
}
