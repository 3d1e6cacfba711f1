import { useState } from "react";
import { Conversation } from "../desk/channel-test.tsx";
import { FaultText } from "../desk/fault-text.tsx";
import { instantWords } from "../desk/instant.ts";
import { tellDesk } from "../desk/ask-desk.ts";
import type { TriedOut } from "../desk/settings-records.ts";
import { useStep } from "../desk/use-step.ts";
import { Field } from "../page/field.tsx";
import { State } from "../page/state.tsx";
import { Plan, usePlan } from "./plan.tsx";
import { CHANNEL_WORDS } from "./told-words.ts";
import type { PersonRef, Way } from "./told-records.ts";

interface AddressLineProps {
  readonly of: PersonRef;
  readonly way: Way;
  readonly mayChange: boolean;
  readonly onDate: string;
  readonly done: (said: string) => void;
}

/** One address: whether it reaches anybody, a test of it, and another in its place. */
export function AddressLine({ of, way, mayChange, onDate, done }: AddressLineProps) {
  const { channel, address, used, broken } = way;
  const [replacing, setReplacing] = useState(false);
  return (
    <li className="noted">
      <div className="flow">
        <p>
          {broken === null ? null : <State state="fault" word="Broken address" />}{" "}
          <strong className="address">{address}</strong>{" "}
          <span className="soft">{CHANNEL_WORDS[channel]}</span>
          {used ? null : <> This desk has no way of telling set up for it.</>}
        </p>
        {broken === null ? null : (
          <p>
            {broken.reason}
            <br />
            <span className="soft">
              Nobody is told by it until a message or a test is handed over again; the others on the path are
              told, and a silent path is shown on the page Now.
            </span>
          </p>
        )}
        {used ? <Test of={of} way={way} /> : null}
        {!mayChange ? null : replacing ? (
          <Replace of={of} way={way} onDate={onDate} done={done} />
        ) : (
          <p>
            <button
              type="button"
              className="word"
              onClick={() => {
                setReplacing(true);
              }}
            >
              Replace this address…<span className="unseen"> {address}</span>
            </button>
          </p>
        )}
      </div>
      {broken === null ? null : <p className="note">broken since {instantWords(broken.sinceAt)}</p>}
    </li>
  );
}

interface TestProps {
  readonly of: PersonRef;
  readonly way: Way;
}

function Test({ of, way: { channel, address, broken } }: TestProps) {
  const [tried, setTried] = useState<(TriedOut & { readonly mended: boolean }) | null>(null);
  const { busy, fault, said, take } = useStep();
  const send = (): void => {
    setTried(null);
    take(async () => {
      const result = await tellDesk<TriedOut & { readonly mended: boolean }>("/api/told-people/tests", {
        ...{ of, channel, address },
      });
      setTried(result);
      return outcomeText(result, address);
    });
  };
  return (
    <>
      <p>
        <button type="button" disabled={busy} onClick={send}>
          {busy
            ? "Asking the other side…"
            : broken === null
              ? "Send a test"
              : "Send a test and see whether it works again"}
          <span className="unseen"> to {address}</span>
        </button>
      </p>
      <FaultText fault={fault} />
      {said === null ? null : <p>{said}</p>}
      {tried === null ? null : <Conversation tried={tried} />}
    </>
  );
}

function outcomeText(
  { outcome, mended }: { readonly outcome: TriedOut["outcome"]; readonly mended: boolean },
  address: string,
): string {
  if (outcome !== "accepted") return `The test to ${address} was not handed over.`;
  const later = "Whether the mailbox sends it back later is not seen here: ask whoever reads it.";
  return mended
    ? `${address} counts as working again. ${later}`
    : `The test to ${address} was handed over. ${later}`;
}

function Replace({ of, way: { channel, address }, onDate, done }: Omit<AddressLineProps, "mayChange">) {
  const [to, setTo] = useState("");
  const planning = usePlan();
  return (
    <form
      className="flow"
      onSubmit={(event) => {
        event.preventDefault();
        planning.look({ of, sites: null, change: { address: { channel, from: address, to: to.trim() } } });
      }}
    >
      <div className="narrow">
        <Field
          words={`Address in place of ${address}`}
          hint="goes into every site file where the old one stands"
          value={to}
          typed={(typed) => {
            setTo(typed);
            planning.drop();
          }}
        />
      </div>
      <p>
        <button type="submit" disabled={to.trim() === "" || planning.looking.busy}>
          Show where it changes
        </button>
      </p>
      <Plan planning={planning} onDate={onDate} done={done} />
    </form>
  );
}
