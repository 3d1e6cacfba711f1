import { useEffect, useRef, useState } from "react";
import { Link } from "../address/link.tsx";
import { announce } from "../page/announce.tsx";
import { Page } from "../page/page.tsx";
import { State } from "../page/state.tsx";
import "./desk.css";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import { type Matter, mattersOf } from "./matters.ts";
import type { Alarm, BrokenAddress, Case, Drill, Listener, Me, SiteLine } from "./records.ts";
import { useAnswer } from "./use-answer.ts";
import { useSites } from "./use-sites.ts";

const ZONE = Intl.DateTimeFormat().resolvedOptions().timeZone;

/** What needs a person now, as the desk knows it; undefined until it has answered. */
function useNow(me: Me) {
  const keeps = me.role === "service" && me.sites === null;
  const cases = useAnswer<readonly Case[]>("/api/cases", ["case", "alarm"]);
  const alarms = useAnswer<readonly Alarm[]>("/api/alarms", ["alarm", "case"]);
  const drills = useAnswer<readonly Drill[]>("/api/drills?limit=5000", ["drill"]);
  const sites = useSites(["site"]);
  const broken = useAnswer<readonly BrokenAddress[]>(keeps ? "/api/broken-addresses" : null, [
    "delivery",
    "person",
  ]);
  const listeners = useAnswer<readonly Listener[]>(keeps ? "/api/listeners" : null, ["watch", "alarm"]);
  const fault = [cases, alarms, drills, sites, broken, listeners].find((one) => one.fault !== null)?.fault;
  const known =
    cases.value !== undefined && alarms.value !== undefined && drills.value && sites.value !== undefined
      ? {
          cases: cases.value,
          alarms: alarms.value,
          drills: drills.value,
          sites: sites.value,
          broken: broken.value ?? [],
          listeners: listeners.value ?? [],
        }
      : null;
  return { known, fault: fault ?? null };
}

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
export default function NowPage({ me }: { readonly me: Me }) {
  const { known, fault } = useNow(me);
  const minute = useMinute();
  if (known === null)
    return (
      <Page title="What needs a person">
        <FaultText fault={fault} />
        {fault === null ? <p className="soft">Asking the desk…</p> : null}
      </Page>
    );
  const names = new Map(known.sites.map(({ id, name }) => [id, name ?? id]));
  const desk = { ...known, nameOf: (site: string) => names.get(site) ?? site, zone: ZONE };
  const matters = mattersOf(desk, Math.max(minute, Date.now()));
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
      <Evidence {...known} />
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
  readonly sites: readonly SiteLine[];
  readonly drills: readonly Drill[];
  readonly listeners: readonly Listener[];
}

/** Why silence can be believed: what is watched, what is heard, and when a person last answered a drill. */
function Evidence({ sites, drills, listeners }: EvidenceProps) {
  const passed = drills.filter(({ ended }) => ended?.outcome === "passed");
  const last = passed.toSorted((a, b) => b.startedAt - a.startedAt)[0];
  const quiet = sites.filter(({ activeAlarms, silentPaths }) => activeAlarms + silentPaths === 0).length;
  return (
    <section className="flow">
      <h2>What stands behind this page</h2>
      <ul className="plain index">
        <li>
          {sites.length === 1 ? "One site is watched" : `${sites.length} sites are watched`}; {quiet} without
          a sign or a silent path. <Link to="/register">See them</Link>
        </li>
        {listeners.map(({ name, text }) => (
          <li key={name}>{text}</li>
        ))}
        <li>
          {last === undefined ? (
            "No drill has been passed at this desk yet: hold one, so that it is known that a person hears."
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
