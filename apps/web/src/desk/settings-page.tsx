import { useState } from "react";
import { counted } from "../page/counted.ts";
import { Fold } from "../page/fold.tsx";
import { OpenFoldsShown, useOpenFoldsByAddress } from "../page/open-folds.ts";
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
  return (
    <Page
      title="Settings"
      under="What the desk goes by, where it comes from, and tests of its ways of telling."
    >
      <FaultText fault={fault} />
      {value === undefined ? null : <Parts settings={value} again={again} />}
    </Page>
  );
}

/** On a phone each part folds behind its heading and how it stands. */
function Parts({ settings, again }: { readonly settings: SettingsWhole; readonly again: () => void }) {
  return (
    <OpenFoldsShown value={useOpenFoldsByAddress("part")}>
      <Channels settings={settings} />
      <SettingsEdit settings={settings} done={again} />
      <Stated settings={settings} />
      <Limits settings={settings} />
    </OpenFoldsShown>
  );
}

function Channels({ settings: { channels, beacons } }: { readonly settings: SettingsWhole }) {
  return (
    <Fold name="ways" title="Ways of telling" level={2} standing={<ChannelsStanding channels={channels} />}>
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
    </Fold>
  );
}

function ChannelsStanding({ channels }: Pick<SettingsWhole, "channels">) {
  if (channels.length === 0) return <State state="fault" word="None: the desk can tell nobody" />;
  const rehearsed = channels.filter((channel) => channel.rehearsed).length;
  return (
    <>
      <span className="soft">{counted(channels.length, "way")}</span>
      {rehearsed === 0 ? null : (
        <>
          <span className="soft">, </span>
          <State
            state="unsure"
            word={rehearsed === channels.length ? "all rehearsed" : `${rehearsed} rehearsed`}
          />
        </>
      )}
    </>
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

function Stated({ settings: { stated, file } }: { readonly settings: SettingsWhole }) {
  return (
    <Fold
      name="stated"
      title={`As stated in ${file ?? "the program that started the desk"}`}
      level={2}
      standing={<span className="soft">{counted(stated.length, "value")}</span>}
    >
      <p className="soft">What is not listed is as the program ships it. Secrets are never shown.</p>
      <dl className="settings">
        {stated.map(({ field, value }) => (
          <div key={field}>
            <dt className="figure">{field}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </Fold>
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
    <Fold
      name="limits"
      title="Limits by which it decides"
      level={2}
      standing={<span className="soft">{counted(limits.length, "limit")}, each with its source</span>}
    >
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
    </Fold>
  );
}
