import { useState } from "react";
import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import { useUnfoldedBy } from "../page/open-folds.ts";
import { State } from "../page/state.tsx";
import { tellDesk } from "./ask-desk.ts";
import { FaultText } from "./fault-text.tsx";
import type { ChannelLine, SettingsWhole, TriedOut } from "./settings-records.ts";
import { useStep } from "./use-step.ts";

const TO: Readonly<Record<Exclude<ChannelLine["kind"], "mqtt">, readonly [string, string]>> = {
  email: ["Address to send a test to", "one e-mail address, such as your own"],
  webhook: ["Web address to send a test to", "begins with https://"],
  sms: ["Number to send a test to", "with its country, such as +61 3 5550 0100"],
};

const OUTCOMES = {
  accepted: ["proven", "Handed over"],
  later: ["unsure", "Not handed over"],
  refused: ["fault", "Refused"],
} as const;

interface ChannelTestProps {
  readonly kind: ChannelLine["kind"];
  readonly beacons: SettingsWhole["beacons"];
}

/** Sends one test by a channel and shows the conversation with the other side. */
export function ChannelTest({ kind, beacons }: ChannelTestProps) {
  const [to, setTo] = useState(kind === "mqtt" ? (beacons[0]?.id ?? "") : "");
  const [tried, setTried] = useState<TriedOut | null>(null);
  const { busy, fault, take } = useStep();
  useUnfoldedBy(fault, "ways");
  return (
    <div className="flow">
      <form
        className="flow narrow"
        onSubmit={(event) => {
          event.preventDefault();
          setTried(null);
          take(async () => {
            const result = await tellDesk<TriedOut>("/api/settings/tests", { channel: kind, to: to.trim() });
            setTried(result);
            return `${OUTCOMES[result.outcome][1]}: ${result.text}`;
          });
        }}
      >
        {kind === "mqtt" ? (
          <>
            <Choice
              words="Beacon"
              value={to}
              choices={beacons.map(({ id, topic }) => [id, `${id} (${topic})`])}
              chosen={setTo}
            />
            <p className="soft">It is told once more what it shows now; it is neither lit nor put out.</p>
          </>
        ) : (
          <Field words={TO[kind][0]} hint={TO[kind][1]} value={to} typed={setTo} />
        )}
        <button type="submit" disabled={busy || to.trim() === ""}>
          {busy ? "Asking the other side…" : "Send a test"}
        </button>
        <FaultText fault={fault} />
      </form>
      {tried === null ? null : <Conversation tried={tried} />}
    </div>
  );
}

const WHO = { desk: "desk", "other-side": "other side", note: "" } as const;

/** What came of a test, and the conversation line by line. */
export function Conversation({ tried: { outcome, text, said } }: { readonly tried: TriedOut }) {
  const [state, word] = OUTCOMES[outcome];
  return (
    <div className="flow">
      <p>
        <State state={state} word={word} /> {text}
      </p>
      <ol className="conversation" aria-label="What was said">
        {said.map((line, at) => (
          // Lines only ever follow one another, and may be alike.
          <li key={at} className={line.by}>
            <span className="soft">{WHO[line.by]}</span> <span className="figure">{line.text}</span>
          </li>
        ))}
      </ol>
    </div>
  );
}
