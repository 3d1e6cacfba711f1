import { oneOf, useView } from "../address/use-view.ts";
import { Choice } from "../page/choice.tsx";
import { Page } from "../page/page.tsx";
import { State, type StateName } from "../page/state.tsx";
import { BrokenAddressLine } from "./broken-address-line.tsx";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import { keepsDesk } from "./keeps-desk.ts";
import { Longer } from "./longer.tsx";
import type { BrokenAddress, Listener, Me, MessageLine } from "./records.ts";
import { useAnswer } from "./use-answer.ts";
import { useLonger } from "./use-longer.ts";
import { Asking } from "../page/asking.tsx";

const WHICH = [
  ["", "All"],
  ["waiting", "Waiting"],
  ["sent", "Handed over"],
  ["refused", "Refused"],
] as const;
const PLAIN = { which: WHICH[0][0] };

const STATES: Readonly<Record<MessageLine["state"], readonly [StateName, string] | null>> = {
  waiting: ["unsure", "Waiting"],
  claimed: ["unsure", "Going out"],
  sent: null,
  refused: ["fault", "Refused"],
};

/** What was said to whom, why, and what the other side answered. */
export default function MessagesPage({ me }: { readonly me: Me }) {
  const [view, show] = useView(PLAIN);
  const which = oneOf(WHICH, view.which);
  const may = me.role === "service" || me.role === "technician";
  return (
    <Page title="Messages" under="What was said to whom, and what the other side answered.">
      {keepsDesk(me) ? (
        <>
          <BrokenAddresses />
          <Listeners />
        </>
      ) : null}
      <section className="flow">
        <h2>Said</h2>
        {may ? (
          <>
            <div className="narrow">
              <Choice words="Which" value={which} choices={WHICH} chosen={show("which")} />
            </div>
            <Said key={which} which={which} />
          </>
        ) : (
          <p>Messages are shown to service engineers and technicians.</p>
        )}
      </section>
    </Page>
  );
}

function Said({ which }: { readonly which: string }) {
  const state = which === "" ? "" : `&state=${which}`;
  const { value, fault, rows, longer } = useLonger<readonly MessageLine[]>(
    // One more than is shown tells whether there are more.
    (shown) => `/api/messages?limit=${shown + 1}${state}`,
    ["message", "delivery", "case"],
  );
  const shown = value?.slice(0, rows) ?? [];
  return (
    <>
      <FaultText fault={fault} />
      {value === undefined && fault === null ? <Asking /> : null}
      {value?.length === 0 ? <p className="soft">No such message.</p> : null}
      <ul className="plain index">
        {shown.map((message) => (
          <Message key={`${message.key} ${message.channel}`} message={message} />
        ))}
      </ul>
      <Longer
        more={(value?.length ?? 0) > shown.length ? "some" : 0}
        what="messages"
        longer={longer}
        otherwise="Who was told of a case stands on its page."
      />
    </>
  );
}

function Message({ message }: { readonly message: MessageLine }) {
  const { person, channel, site, kind, state, reason, attempts, reply, finishedAt, writtenAt } = message;
  const shown = STATES[state];
  return (
    <li className="noted">
      <p>
        {shown === null ? null : <State state={shown[0]} word={shown[1]} />} To {person} by {channel}, about{" "}
        {site} ({kind})
        <br />
        <span className="soft">{reason}</span>
        {reply === null ? null : (
          <>
            <br />
            <span className="soft">Answer: {reply}</span>
          </>
        )}
      </p>
      <p className="note">
        written {instantWords(writtenAt)}
        {finishedAt === null ? null : <>, done {instantWords(finishedAt)}</>}
        {attempts > 1 ? <>, {attempts} attempts</> : null}
      </p>
    </li>
  );
}

function BrokenAddresses() {
  const { value, fault, again } = useAnswer<readonly BrokenAddress[]>("/api/broken-addresses", [
    "delivery",
    "person",
  ]);
  return (
    <section className="flow">
      <h2>Addresses that reach nobody</h2>
      <FaultText fault={fault} />
      {value?.length === 0 ? <p>None is known.</p> : null}
      <ul className="plain index">
        {value?.map((one) => (
          <BrokenAddressLine key={`${one.channel} ${one.address}`} one={one} done={again} />
        ))}
      </ul>
    </section>
  );
}

function Listeners() {
  const { value, fault } = useAnswer<readonly Listener[]>("/api/listeners", ["watch", "alarm"]);
  return (
    <section className="flow">
      <h2>What the desk hears</h2>
      <FaultText fault={fault} />
      <ul className="plain index">
        {value?.map(({ name, state, text }) => (
          <li key={name}>
            <p>
              {state === "hearing" ? (
                <State state="proven" word="Hearing" />
              ) : (
                <State state={state === "deaf" ? "fault" : "unsure"} word={state.replace("-", " ")} />
              )}{" "}
              {text}
            </p>
          </li>
        ))}
      </ul>
    </section>
  );
}
