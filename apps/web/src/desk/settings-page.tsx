import { useState } from "react";
import { Page } from "../page/page.tsx";
import { SourceNote } from "../page/source-note.tsx";
import { State } from "../page/state.tsx";
import { ChannelTest } from "./channel-test.tsx";
import { FaultText } from "./fault-text.tsx";
import { keepsDesk } from "./keeps-desk.ts";
import type { Me } from "./records.ts";
import { SettingsEdit } from "./settings-edit.tsx";
import type { ChannelLine, SettingsWhole } from "./settings-records.ts";
import { useAnswer } from "./use-answer.ts";

const KINDS: Readonly<Record<ChannelLine["kind"], string>> = {
  email: "E-mail",
  webhook: "Webhooks",
  sms: "Text messages",
  mqtt: "Beacons",
};

/** What the desk goes by, how that is changed, and whether its ways of telling work. */
export default function SettingsPage({ me }: { readonly me: Me }) {
  const keeps = keepsDesk(me);
  const { value, fault, again } = useAnswer<SettingsWhole>(keeps ? "/api/settings" : null, []);
  if (!keeps)
    return (
      <Page title="Settings">
        <p>Settings are seen by service engineers who run the whole desk. Ask one of them.</p>
      </Page>
    );
  const from = value?.file ?? "the program that started the desk";
  return (
    <Page
      title="Settings"
      under="What the desk goes by, where it comes from, and tests of its ways of telling."
    >
      <FaultText fault={fault} />
      {value === undefined ? null : (
        <>
          <Channels settings={value} />
          <SettingsEdit settings={value} done={again} />
          <Stated settings={value} from={from} />
          <Limits settings={value} />
        </>
      )}
    </Page>
  );
}

function Channels({ settings: { channels, beacons } }: { readonly settings: SettingsWhole }) {
  return (
    <section className="flow">
      <h2>Ways of telling</h2>
      {channels.length === 0 ? (
        <p>
          <State state="fault" word="None" /> The desk can tell nobody. Set up e-mail, webhooks, text messages
          or beacons in its file.
        </p>
      ) : null}
      <ul className="plain index">
        {channels.map((channel) => (
          <Channel key={channel.kind} channel={channel} beacons={beacons} />
        ))}
      </ul>
    </section>
  );
}

interface ChannelProps {
  readonly channel: ChannelLine;
  readonly beacons: SettingsWhole["beacons"];
}

function Channel({ channel: { kind, rehearsed, by }, beacons }: ChannelProps) {
  const [trying, setTrying] = useState(false);
  const name = KINDS[kind];
  return (
    <li className="flow">
      <p>
        <strong>{name}</strong> {rehearsed ? <State state="unsure" word="Rehearsed" /> : null}
        <br />
        <span className="soft">{by}</span>
      </p>
      <button
        type="button"
        className="word"
        aria-expanded={trying}
        onClick={() => {
          setTrying(!trying);
        }}
      >
        {trying ? "Put the test away" : "Try it out…"}
        <span className="unseen"> ({name})</span>
      </button>
      {trying ? <ChannelTest kind={kind} beacons={beacons} /> : null}
    </li>
  );
}

function Stated({ settings: { stated }, from }: { readonly settings: SettingsWhole; readonly from: string }) {
  return (
    <section className="flow">
      <h2>As stated in {from}</h2>
      <p className="soft">What is not listed is as the program ships it. Secrets are never shown.</p>
      <dl className="settings">
        {stated.map(({ field, value }) => (
          <div key={field}>
            <dt className="figure">{field}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

/** `acknowledgementHoldsH` as words: acknowledgement holds. */
const words = (name: string): string =>
  name
    .replace(/(?:Min|H|D|S)$/u, "")
    .replace(/[A-Z]/gu, (letter) => ` ${letter.toLowerCase()}`)
    .trim();

function Limits({ settings: { limits } }: { readonly settings: SettingsWhole }) {
  return (
    <section className="flow">
      <h2>Limits by which it decides</h2>
      <ul className="plain index">
        {limits.map(({ name, value, unit, source, tag }) => (
          <li key={name} className="noted">
            <p>
              {words(name)}: <span className="figure">{Math.round(value * 1000) / 1000}</span>{" "}
              <span className="soft">{unit}</span>
            </p>
            <SourceNote source={source} tag={tag} />
          </li>
        ))}
      </ul>
    </section>
  );
}
