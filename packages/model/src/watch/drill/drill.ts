import { instantText, isInstant, listed } from "../grounds.ts";
import { WATCH_LIMITS, type WatchLimits } from "../limits.ts";
import { MINUTE } from "../time/span.ts";
import { obstacleOf, type TellPath, type TellPerson } from "../notify/recipients.ts";
import { given, refused, type Refused } from "../refusal.ts";
import { beaconsOfDrill, beaconsText, unseenBeacons } from "./drill-beacon.ts";
import type { DrillCode } from "./drill-codes.ts";
import type { Drill, DrillBeacon } from "./drill-record.ts";

/** A beacon in which a path ends. */
export interface BeaconOfPath {
  readonly id: string;
  /** Its topic says of a drill that it is one; otherwise a drill looks like a fault there. */
  readonly saysDrill: boolean;
}

export type DrillStep =
  | { readonly ok: true; readonly drill: Drill; readonly reason: string }
  | Refused<DrillCode>;

/** What a drill is started with. */
export interface DrillStart {
  readonly id: string;
  readonly path: TellPath;
  readonly people: readonly TellPerson[];
  /** Those in which the path ends; absent: none. */
  readonly beacons?: readonly BeaconOfPath[];
  readonly trigger: { readonly kind: "scheduled" } | { readonly kind: "on-demand"; readonly by: string };
}

/**
 * Starts a drill of everybody on a path, its ladder included. People who are away or have left the post take no part;
 * somebody whose messages come back does, since that is what a drill is there to find. The beacons of the path are lit for a
 * stated time.
 */
export function startDrill(
  { id, path, people, beacons = [], trigger }: DrillStart,
  at: number,
  limits: WatchLimits = WATCH_LIMITS,
): DrillStep {
  if (!isInstant(at)) return refused("DRILL_INSTANT_INVALID", "Give the instant at which the drill starts.");
  const by = trigger.kind === "on-demand" ? given(trigger.by) : null;
  if (trigger.kind === "on-demand" && by === null)
    return refused("DRILL_NAME_MISSING", "Give the name of the person who starts the drill.");
  const ids = [...new Set([...path.to, ...(path.ladder ?? []).flatMap(({ to }) => to)])];
  const reasons = ids.map((person) => ({ person, reason: reasonToLeaveOut(person, people, at) }));
  const recipients = reasons.filter(({ reason }) => reason === null);
  if (recipients.length === 0)
    return refused("DRILL_NOBODY_TO_TELL", `Nobody on path ${path.id} can take part.`);
  const drill: Drill = {
    id,
    site: path.site,
    path: path.id,
    trigger: trigger.kind,
    by,
    startedAt: at,
    answerByAt: at + limits.drillAnswerMin.value * MINUTE,
    recipients: recipients.map(({ person }) => ({ person, acknowledgedAt: null })),
    ...(beacons.length === 0 ? {} : { beacons: beacons.map((one) => litFrom(one, at, limits)) }),
    leftOut: reasons.flatMap(({ person, reason }) => (reason === null ? [] : [{ person, reason }])),
    ended: null,
  };
  return {
    ok: true,
    drill,
    reason: `Drill of path ${path.id}, to be answered by ${instantText(drill.answerByAt)}.`,
  };
}

function litFrom({ id, saysDrill }: BeaconOfPath, at: number, limits: WatchLimits): DrillBeacon {
  const until = at + Math.min(limits.drillBeaconMin.value, limits.drillAnswerMin.value) * MINUTE;
  return { beacon: id, saysDrill, litUntilAt: until, seen: null };
}

function reasonToLeaveOut(id: string, people: readonly TellPerson[], at: number): string | null {
  const person = people.find((one) => one.id === id);
  if (person === undefined) return `${id} is not among the people known.`;
  const obstacle = obstacleOf(person, at);
  return obstacle === null || obstacle.kind === "broken" ? null : obstacle.text;
}

/** Records an answer. The first one of a person counts; one that comes after the end is kept and changes no outcome. */
export function acknowledgeDrill(drill: Drill, person: string, at: number): DrillStep {
  if (!isInstant(at)) return refused("DRILL_INSTANT_INVALID", "Give the instant of the answer.");
  const recipient = drill.recipients.find((one) => one.person === person);
  if (recipient === undefined)
    return refused("DRILL_PERSON_UNKNOWN", `${person} takes no part in drill ${drill.id}.`);
  if (at < drill.startedAt)
    return refused("DRILL_ANSWER_EARLY", `Drill ${drill.id} began ${instantText(drill.startedAt)}.`);
  const before = recipient.acknowledgedAt;
  if (before !== null && before <= at)
    return { ok: true, drill, reason: `${person} had acknowledged ${instantText(before)}.` };
  const answered = { person, acknowledgedAt: at };
  const recipients = drill.recipients.map((one) => (one === recipient ? answered : one));
  return lookAtDrill({ ...drill, recipients }, at);
}

/** Ends a drill that everybody has answered in time, its beacons seen, or whose time is over. */
export function lookAtDrill(drill: Drill, now: number): Extract<DrillStep, { ok: true }> {
  if (drill.ended !== null) return { ok: true, drill, reason: `The drill ${drill.ended.outcome}.` };
  const waits = missingAnswers(drill);
  if (waits.length === 0) {
    const answers = drill.recipients.map(({ acknowledgedAt }) => acknowledgedAt!);
    const said = beaconsOfDrill(drill).map(({ seen }) => seen!.saidAt);
    const ended = { at: Math.max(...answers, ...said), outcome: "passed" } as const;
    const seen = said.length === 0 ? "" : " and its beacons were seen";
    return {
      ok: true,
      drill: { ...drill, ended },
      reason: `Everybody has acknowledged${seen}: the drill passed.`,
    };
  }
  if (now <= drill.answerByAt) return { ok: true, drill, reason: `Waits for ${listed(waits)}.` };
  const ended = { at: drill.answerByAt, outcome: "missed" } as const;
  return { ok: true, drill: { ...drill, ended }, reason: `The drill was missed: ${missedWords(drill)}.` };
}

/** What is still to come, in words. */
function missingAnswers(drill: Drill): readonly string[] {
  const unseen = unseenBeacons(drill).map(({ beacon }) => `somebody who saw beacon ${beacon} burn`);
  return [...silentOnes(drill), ...unseen];
}

/** Why a drill was missed: `no answer in time from ben; nobody said in time that beacon quay-lamp was seen to burn`. */
export function missedWords(drill: Drill): string {
  const silent = silentOnes(drill);
  const unseen = unseenBeacons(drill).map(({ beacon }) => beacon);
  return [
    ...(silent.length === 0 ? [] : [`no answer in time from ${silent.join(", ")}`]),
    ...(unseen.length === 0 ? [] : [`nobody said in time that they saw ${beaconsText(unseen)} burn`]),
  ].join("; ");
}

/** Recipients without an answer in time. */
export function silentOnes({ recipients, answerByAt }: Drill): readonly string[] {
  return recipients
    .filter(({ acknowledgedAt }) => acknowledgedAt === null || acknowledgedAt > answerByAt)
    .map(({ person }) => person);
}
