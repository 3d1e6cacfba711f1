import { type Alarm, type Need, needsToClose, SIGNS } from "@earthbell/model";
import { type Deed, does, doersOf } from "./deeds.ts";
import { drillMatters, type DrillsAtDesk, drillsAreHeldBy } from "./drill-matters.ts";
import type { Matter } from "./matter.ts";
import { durationWords, instantWords } from "./instant.ts";
import { visitMatter } from "./visit-matter.ts";
import type { BrokenAddress, CaseBrief, Listener, Now, SiteGroup, VisitBrief } from "./records.ts";

export interface AtDesk extends DrillsAtDesk {
  readonly cases: readonly CaseBrief[];
  readonly visits: readonly VisitBrief[];
  readonly setAside: Now["setAside"];
  /** Those that the desk counts and does not name. */
  readonly more: Now["more"];
  readonly broken: readonly BrokenAddress[];
  readonly listeners: readonly Listener[];
  readonly unserved: SiteGroup;
  readonly unproved: SiteGroup;
}

/** Everything that needs a person, in the order in which it does: faults by how far they are, then ways that would not tell. */
export function mattersOf(desk: AtDesk, now: number): readonly Matter[] {
  const cases = desk.cases.map((one) => caseMatter(one, desk, now));
  const at = (rank: number) => cases.filter((one) => one.rank === rank).map(({ matter }) => matter);
  const deaf = desk.listeners.filter(({ state }) => state !== "hearing").map(listenerMatter);
  const more = (kind: keyof Now["more"]) => moreMatter(kind, desk.more[kind]);
  return [
    ...at(0),
    ...more("unanswered"),
    ...at(1),
    ...more("present"),
    ...deaf,
    ...desk.alarms.filter(({ sign }) => sign === "path-silent").map((alarm) => silentMatter(alarm, desk)),
    ...more("silent"),
    ...desk.alarms.filter(({ sign }) => sign === "drill-missed").map((alarm) => missedMatter(alarm, desk)),
    ...more("missed"),
    ...desk.broken.map(brokenMatter),
    ...at(2),
    ...more("unsigned"),
    ...drillMatters(desk, now),
    ...more("drills"),
    ...desk.setAside.map((one) => asideMatter(one, desk)),
    ...desk.visits.map((visit) => visitMatter(visit, desk.nameOf)),
    ...more("visits"),
    ...desk.alarms
      .filter(({ sign, subject }) => subject.kind === "array" && isDetectorSign(sign))
      .map((alarm) => upkeepMatter(alarm, desk)),
    ...more("upkeep"),
    ...standingMatters(desk),
  ];
}

type Kind = Pick<Matter, "state" | "word" | "why" | "byWhen" | "to"> & { readonly of: string };

/** What is said of those that are counted only, and where they are found. */
const MORE: Readonly<Record<keyof Now["more"], Kind>> = {
  unanswered: {
    ...{ state: "fault", word: "Unanswered", of: "faults that nobody has answered", byWhen: "now" },
    ...{ why: "The newest of them stand above.", to: "/cases" },
  },
  present: {
    ...{ state: "fault", word: "Present", of: "faults that are still there", to: "/cases" },
    ...{ why: "The newest of them stand above.", byWhen: "the next visit that licensed people can make" },
  },
  silent: {
    ...{ state: "fault", word: "Silent", of: "silent paths and people not reached", byWhen: "now" },
    ...{ why: "The register lists their sites first.", to: "/register" },
  },
  missed: {
    ...{ state: "fault", word: "Drill missed", of: "people who did not answer a drill", byWhen: "now" },
    ...{ why: "The register lists their sites among those with signs.", to: "/register" },
  },
  unsigned: {
    ...{ state: "must", word: "To be signed", of: "cases that lack a step", byWhen: "no date is set" },
    ...{ why: "The newest of them stand above.", to: "/cases" },
  },
  drills: {
    ...{ state: "must", word: "Drill due", of: "paths whose drill runs, was missed or runs out" },
    ...{ why: "The register lists the longest without a proof first.", to: "/register?by=proved" },
    byWhen: "the next days",
  },
  visits: {
    ...{ state: "must", word: "Drifting", of: "arrays that are worth a visit", to: "/drift" },
    ...{ why: "Drift lists them in order.", byWhen: "the days that Drift gives" },
  },
  upkeep: {
    ...{ state: "unsure", word: "Detector", of: "signs of detectors", byWhen: "the next visit" },
    ...{ why: "The register lists their sites among those with signs.", to: "/register" },
  },
};

function moreMatter(kind: keyof Now["more"], count: number): readonly Matter[] {
  if (count === 0) return [];
  const { of, ...said } = MORE[kind];
  return [{ ...said, key: `more ${kind}`, title: `${count} more ${of}` }];
}

/** What the files say of many sites at once: one line each, however many there are. */
function standingMatters({ unserved, unproved, nameOf }: AtDesk): readonly Matter[] {
  return [
    ...groupMatter(unserved, nameOf, {
      key: "unserved",
      word: "Not served",
      why: "An alarm is required there, and no path meets what is asked of it.",
      to: "/register?show=unserved",
    }),
    ...groupMatter(unproved, nameOf, {
      key: "unproved",
      word: "Not proved",
      why: "An alarm is required there, and no path was proved within a year.",
      to: "/register?show=unproved",
    }),
  ];
}

function groupMatter(
  { first, count }: SiteGroup,
  nameOf: AtDesk["nameOf"],
  common: Pick<Matter, "key" | "word" | "why" | "to">,
): readonly Matter[] {
  if (count === 0) return [];
  const more = count > first.length ? ` and ${count - first.length} more` : "";
  const title = `${first.map(nameOf).join("; ")}${more}`;
  return [{ ...common, state: "unsure", title, byWhen: "the next visit" }];
}

/** What a case lacks, said to those who cannot bring it: what it is, and who does it. */
const LACKS: Readonly<Record<Need["need"], readonly [deed: Deed, text: string]>> = {
  "fault-gone": ["work-case", "The fault is still there."],
  "cause-signed": ["close-case", `No cause is signed yet; ${doersOf("close-case")} signs it.`],
  "insulation-measured": [
    "work-case",
    `Insulation is still to be measured after the repair, by ${doersOf("work-case")}.`,
  ],
  "owner-told": ["work-case", "The owner has not been told of the signed cause yet."],
};

/** What a case lacks before it can close, as its reader needs it: what to do, or what others do. */
function lackWords(one: CaseBrief, role: AtDesk["role"]): string {
  const missing = needsToClose(one).filter(({ met }) => !met);
  if (missing.length === 0) {
    const gone = "The fault is gone and nothing is missing";
    return does(role, "close-case")
      ? `${gone}: it can be closed.`
      : `${gone}; ${doersOf("close-case")} closes it.`;
  }
  const words = missing.map(({ need, text }) => {
    const [deed, looked] = LACKS[need];
    return does(role, deed) ? text : looked;
  });
  return words.join(" ");
}

function caseMatter(one: CaseBrief, { alarms, nameOf, role }: AtDesk, now: number) {
  const common = {
    key: `case ${one.id}`,
    title: `${nameOf(one.site)}, array ${one.array}`,
    to: `/cases/${encodeURIComponent(one.id)}`,
  };
  const own = alarms.filter(({ id }) => one.alarms.includes(id));
  const signs = own.map(({ sign }) => SIGNS[sign].title).join(" and ");
  const open = `for ${durationWords(now - one.openedAt)}`;
  if (own.some(({ acknowledged, sign }) => acknowledged === null && SIGNS[sign].opensCase)) {
    const by = does(role, "answer") ? "" : ` It is answered by ${doersOf("answer")}.`;
    const why = `${capital(signs)}. Unanswered ${open}.${by}`;
    const matter: Matter = { ...common, state: "fault", word: "Unanswered", why, byWhen: "now" };
    return { rank: 0, matter };
  }
  if (one.presentAlarms.length > 0) {
    const by = own.find(({ acknowledged }) => acknowledged !== null)?.acknowledged?.by;
    const why = `${capital(signs)}, there ${open}.${by === undefined ? "" : ` ${by} has answered.`}`;
    const byWhen = "the next visit that licensed people can make";
    const matter: Matter = { ...common, state: "fault", word: "Present", why, byWhen };
    return { rank: 1, matter };
  }
  const why = lackWords(one, role);
  const byWhen = `no date is set; open ${open}`;
  const matter: Matter = { ...common, state: "must", word: "To be signed", why, byWhen };
  return { rank: 2, matter };
}

function listenerMatter({ name, state, text }: Listener): Matter {
  const deaf = state === "deaf";
  return {
    key: `listener ${name}`,
    state: deaf ? "fault" : "unsure",
    word: deaf ? "Deaf" : "Partly deaf",
    title: `Listening by ${name}`,
    why: text,
    byWhen: "now: a fault there would not be heard",
    to: "/messages",
  };
}

function placeOf({ subject }: Alarm): string {
  if (subject.kind === "array") return `array ${subject.array}`;
  return subject.person === null ? `path ${subject.path}` : `path ${subject.path} to ${subject.person}`;
}

function silentMatter(alarm: Alarm, { nameOf }: AtDesk): Matter {
  const since = alarm.activeAt === null ? "" : ` since ${instantWords(alarm.activeAt)}`;
  const one = alarm.subject.kind === "path" && alarm.subject.person !== null;
  return {
    key: `alarm ${alarm.id}`,
    state: "fault",
    word: one ? "Not reached" : "Silent",
    title: `${nameOf(alarm.site)}, ${placeOf(alarm)}`,
    why: one ? `Messages do not arrive${since}.` : `No sign of life${since}.`,
    byWhen: "now: a fault would not be told by it",
    to: `/register/${encodeURIComponent(alarm.site)}`,
  };
}

function missedMatter(alarm: Alarm, { nameOf, role }: AtDesk): Matter {
  const since = alarm.activeAt === null ? "" : ` of ${instantWords(alarm.activeAt)}`;
  const unseen = alarm.subject.kind === "path" && alarm.subject.person === null;
  const what = unseen ? "Nobody saw each beacon of the path burn for the drill" : "Did not answer the drill";
  const then = does(role, "drill") ? "Find out why, and hold it again." : drillsAreHeldBy();
  return {
    key: `alarm ${alarm.id}`,
    state: "fault",
    word: "Drill missed",
    title: `${nameOf(alarm.site)}, ${placeOf(alarm)}`,
    why: `${what}${since}: the path is not proven. ${then}`,
    byWhen: "now: a fault might not be read either",
    to: `/register/${encodeURIComponent(alarm.site)}`,
  };
}

function isDetectorSign(sign: Alarm["sign"]): boolean {
  return !SIGNS[sign].faultPresent && sign !== "dawn-recurring";
}

function brokenMatter({ channel, address, sinceAt, reason }: BrokenAddress): Matter {
  return {
    key: `address ${channel} ${address}`,
    state: "fault",
    word: "Broken address",
    title: `${address} by ${channel}`,
    why: `Reaches nobody since ${instantWords(sinceAt)}: ${reason}`,
    byWhen: "now",
    to: "/messages",
  };
}

/** What the desk says of it tells its reader what to do. */
const ASIDE = `The pack itself says otherwise by now, or has no such value any more. ${capital(doersOf("override-rules"))} decides on it.`;

function asideMatter({ pack, field, text }: Now["setAside"][number], { role }: AtDesk): Matter {
  const why = does(role, "override-rules") ? text : ASIDE;
  return {
    ...{ key: `aside ${pack} ${field}`, state: "must", word: "Override set aside", why },
    ...{
      title: `${pack}, ${field}`,
      byWhen: "no date is set; the pack’s own value holds until then",
      to: "/rules",
    },
  };
}

function upkeepMatter(alarm: Alarm, { nameOf }: AtDesk): Matter {
  const since = alarm.activeAt === null ? "" : ` since ${instantWords(alarm.activeAt)}`;
  return {
    key: `alarm ${alarm.id}`,
    state: "unsure",
    word: "Detector",
    title: `${nameOf(alarm.site)}, ${placeOf(alarm)}`,
    why: `${capital(SIGNS[alarm.sign].title)}${since}.`,
    byWhen: "the next visit",
    to: `/register/${encodeURIComponent(alarm.site)}`,
  };
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
