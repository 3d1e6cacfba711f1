import { useEffect, useMemo, useRef, useState } from "react";
import { Link } from "../address/link.tsx";
import { announce } from "../page/announce.tsx";
import { Page } from "../page/page.tsx";
import { State } from "../page/state.tsx";
import "./desk.css";
import { does } from "./deeds.ts";
import { drillsAreHeldBy } from "./drill-matters.ts";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import { keepsDesk } from "./keeps-desk.ts";
import type { Matter } from "./matter.ts";
import { mattersOf } from "./matters.ts";
import type { BrokenAddress, Listener, Me, Now } from "./records.ts";
import { useAgain } from "./use-again.ts";
import { useAnswer } from "./use-answer.ts";
import { Asking } from "../page/asking.tsx";

let zone: string | null = null;
/** The reader's zone, found out when it is first asked for: it takes the browser longer than drawing the page. */
const zoneHere = (): string => (zone ??= Intl.DateTimeFormat().resolvedOptions().timeZone);

/** What needs a person now, as the desk knows it; undefined until it has answered. */
function useNow(me: Me) {
  const keeps = keepsDesk(me);
  const now = useAnswer<Now>("/api/now", ["case", "alarm", "drill", "site"]);
  const broken = useAnswer<readonly BrokenAddress[]>(keeps ? "/api/broken-addresses" : null, [
    "delivery",
    "person",
  ]);
  const listeners = useAnswer<readonly Listener[]>(keeps ? "/api/listeners" : null, ["watch", "alarm"]);
  const fault = [now, broken, listeners].find((one) => one.fault !== null)?.fault;
  useAgain(now.again, (now.value?.unjudged ?? 0) > 0 || now.value?.historiesRead === false);
  return {
    now: now.value,
    broken: broken.value ?? NONE,
    listeners: listeners.value ?? NONE,
    fault: fault ?? null,
  };
}

const NONE: readonly never[] = [];

const MINUTE_MS = 60_000;

function useMinute(): number {
  const [now, setNow] = useState(Date.now);
  useEffect(() => {
    const timer = setInterval(() => {
      setNow(Date.now());
    }, MINUTE_MS);
    return () => {
      clearInterval(timer);
    };
  }, []);
  return now;
}

/** The first page of somebody who is signed in: what needs a person, in order, kept up to date by itself. */
export function NowPage({ me }: { readonly me: Me }) {
  const { now, broken, listeners, fault } = useNow(me);
  const minute = useMinute();
  const matters = useMemo(() => {
    if (now === undefined) return NONE;
    const { names } = now;
    const nameOf = (site: string): string => names[site] ?? site;
    return mattersOf(
      { ...now, broken, listeners, nameOf, zoneHere, role: me.role },
      Math.max(minute, Date.now()),
    );
  }, [now, broken, listeners, minute, me.role]);
  if (now === undefined)
    return (
      <Page title="What needs a person">
        <FaultText fault={fault} />
        {fault === null ? <Asking /> : null}
      </Page>
    );
  return (
    <Page title="What needs a person">
      <FaultText fault={fault} />
      <Changes matters={matters} />
      {matters.length === 0 ? (
        <p className="lead">Nothing needs a person now.</p>
      ) : (
        <ul className="plain index">
          {matters.map((matter) => (
            <MatterLine key={matter.key} matter={matter} />
          ))}
        </ul>
      )}
      <Evidence me={me} now={now} listeners={listeners} />
    </Page>
  );
}

function MatterLine({ matter: { state, word, title, why, byWhen, to } }: { readonly matter: Matter }) {
  return (
    <li className="noted">
      <div className="matter">
        <p>
          <State state={state} word={word} /> <Link to={to}>{title}</Link>
        </p>
        <p className="soft">{why}</p>
      </div>
      <p className="note">By: {byWhen}</p>
    </li>
  );
}

/** Says what came and what went while the page was open, on the page and to a screen reader. */
function Changes({ matters }: { readonly matters: readonly Matter[] }) {
  const before = useRef<ReadonlyMap<string, Matter> | null>(null);
  const [last, setLast] = useState<string | null>(null);
  useEffect(() => {
    const now = new Map(matters.map((matter) => [`${matter.key} ${matter.word}`, matter]));
    const earlier = before.current;
    before.current = now;
    if (earlier === null) return;
    const came = [...now].filter(([key]) => !earlier.has(key)).map(([, one]) => `${one.word}: ${one.title}`);
    const keys = new Set(matters.map(({ key }) => key));
    const went = [...earlier.values()]
      .filter(({ key }) => !keys.has(key))
      .map(({ title }) => `no longer waiting: ${title}`);
    if (came.length + went.length === 0) return;
    const text = [...came, ...went].join("; ");
    announce(text);
    setLast(`${instantWords(Date.now())}: ${text}`);
  }, [matters]);
  return last === null ? null : <p className="small soft">Changed {last}</p>;
}

interface EvidenceProps {
  readonly me: Me;
  readonly now: Now;
  readonly listeners: readonly Listener[];
}

/** Why silence can be believed: what is watched, what is heard, and when a person last answered a drill. */
function Evidence({
  me,
  now: { watched, quiet, historiesRead, lastPassed: last },
  listeners,
}: EvidenceProps) {
  // What is not heard stands above, and is not evidence.
  const heard = listeners.filter(({ state }) => state === "hearing");
  return (
    <section className="flow">
      <h2>What stands behind this page</h2>
      <ul className="plain index">
        <li>
          {watched === 1 ? "One site is watched" : `${watched} sites are watched`}; {quiet} without a sign or
          a silent path. <Link to="/register">See them</Link>
        </li>
        {historiesRead ? null : (
          <li>
            Insulation histories are still being read since the desk was started: arrays that drift may be
            missing above.
          </li>
        )}
        {heard.map(({ name, text }) => (
          <li key={name}>{text}</li>
        ))}
        <li>
          {last === null ? (
            <NoneHeld me={me} />
          ) : (
            <>
              Last drill passed: path {last.path} of {last.site}, {instantWords(last.startedAt)}.
            </>
          )}
        </li>
      </ul>
    </section>
  );
}

function NoneHeld({ me }: { readonly me: Me }) {
  const here = me.sites === null ? "at this desk" : "for these sites";
  if (does(me.role, "drill"))
    return `No drill has been passed ${here} yet: hold one, so that it is known that a person hears.`;
  return `No drill has been passed ${here} yet, so it is not known that a person hears. ${drillsAreHeldBy()}`;
}
