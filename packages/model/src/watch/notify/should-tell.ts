import { type Alarm, conditionState, quietOf } from "../alarm/alarm.ts";
import { durationText, type Grounds, grounds, instantText, listed, named } from "../grounds.ts";
import { WATCH_LIMITS, type WatchLimits } from "../limits.ts";
import { MINUTE } from "../time/span.ts";
import { SIGNS } from "../sign.ts";
import { nextWithin } from "../time/zone.ts";
import { type Delivery, type MessageKind, messageToSend, toldAfter } from "./delivery.ts";
import type { Matter } from "./matter.ts";
import {
  answerHoldsUntil,
  intervalMs,
  lastSentAt,
  pathIntervalMs,
  personHold,
  type Question,
  readsNextAt,
  rungOf,
  stopsWhen,
  wasTold,
} from "./question.ts";
import type { TellPath, TellPerson } from "./recipients.ts";
import { tellOfClearing } from "./tell-of-clearing.ts";
import { tellOfDrill } from "./tell-of-drill.ts";
import { type Hold, held, type TellDecision } from "./tell-decision.ts";

/**
 * Should this person be told of this matter now, and why?
 *
 * An active alarm is told at once, then repeated until what the path names: an acknowledgement (which holds for a time,
 * not for ever) or the clearing. First messages and escalations go out at any hour, since they wait in the mailbox;
 * repeats keep to the person's hours. Whatever holds a message back is named, with its end. In doubt it tells: a duplicate
 * is better than a miss.
 *
 * @param path   as it stands, or as `pathInReach` bends it when people cannot be reached
 * @param last   last recorded delivery of this matter to this person by this path; null when there is none
 */
export function shouldTell(
  matter: Matter,
  person: TellPerson,
  path: TellPath,
  last: Delivery | null,
  now: number,
  limits: WatchLimits = WATCH_LIMITS,
): TellDecision {
  if (rungOf(person, path) === -1)
    return held(
      { because: "not-on-the-path", by: null, untilAt: null },
      grounds(`${person.id} is not on path ${path.id}.`),
    );
  if (matter.kind === "drill") return tellOfDrill(matter, person, path, last, now, limits);
  const question: Question = { matter, person, path, last, now, limits };
  const speaking = matter.alarms.filter((alarm) => speaks(question, alarm));
  if (speaking.length === 0) return tellOfClearing(question);
  const decision = decide(question, speaking);
  const ends = speaking.flatMap((alarm) => [
    quietOf(alarm, now)?.quiet.untilAt ?? null,
    answerHoldsUntil(alarm, limits),
  ]);
  const soonest = ends.filter((at): at is number => at !== null && at > now);
  if (decision.tell) return { ...decision, nextLookAt: Math.min(decision.nextLookAt, ...soonest) };
  const looks = decision.nextLookAt === null ? soonest : [decision.nextLookAt, ...soonest];
  return { ...decision, nextLookAt: looks.length === 0 ? null : Math.min(...looks) };
}

/** An alarm speaks while it is active; and once cleared, as long as nobody who should have heard of it has. */
function speaks(question: Question, alarm: Alarm): boolean {
  if (question.matter.closedAt !== null) return false;
  if (alarm.condition === "active") return true;
  const state = conditionState(alarm);
  if (state !== "latched-unacknowledged" && state !== "returned-unacknowledged") return false;
  if (!stopsWhen(question.path, "cleared")) return true;
  return rungOf(question.person, question.path) === 0 && !wasTold(question, alarm);
}

function decide(question: Question, speaking: readonly Alarm[]): TellDecision {
  const { now, path, limits } = question;
  const loud = speaking.filter((alarm) => quietOf(alarm, now) === null);
  if (loud.length === 0) return heldByQuiet(speaking, now);
  const unanswered = loud.filter((alarm) => {
    const holdsUntil = stopsWhen(path, "acknowledged") ? answerHoldsUntil(alarm, limits) : null;
    return holdsUntil === null || now >= holdsUntil;
  });
  if (unanswered.length === 0) return heldByAnswer(loud, limits);
  return (
    heldByObstacle(question, unanswered) ??
    heldByRung(question, unanswered) ??
    heldByInterval(question, unanswered) ??
    heldByReadingHours(question, unanswered) ??
    tell(question, unanswered, loud)
  );
}

function titles(alarms: readonly Alarm[]): string {
  return listed(alarms.map(({ sign }) => SIGNS[sign].title));
}

function heldByQuiet(alarms: readonly Alarm[], now: number): TellDecision {
  const quiets = alarms.map((alarm) => quietOf(alarm, now)!);
  const first = quiets.toSorted((one, other) => one.quiet.untilAt - other.quiet.untilAt)[0]!;
  const { by, reason, untilAt } = first.quiet;
  const words = {
    shelved: "shelved",
    "suppressed-by-design": "suppressed by design",
    "out-of-service": "out of service",
  };
  const text = `Quiet: ${words[first.kind]} by ${by} until ${instantText(untilAt)}: ${reason}`;
  return held({ because: first.kind, by, untilAt }, grounds(text));
}

function heldByAnswer(alarms: readonly Alarm[], limits: WatchLimits): TellDecision {
  const first = alarms.toSorted((one, other) => one.acknowledged!.at - other.acknowledged!.at)[0]!;
  const untilAt = answerHoldsUntil(first, limits)!;
  const text = `Quiet: acknowledged by ${first.acknowledged!.by}; it is brought to mind again at ${instantText(untilAt)} if the fault is still there.`;
  const hold: Hold = { because: "acknowledged", by: first.acknowledged!.by, untilAt };
  return held(hold, grounds(text, {}, named(limits, "acknowledgementHoldsH")));
}

function heldByObstacle(
  { person, path, now, limits }: Question,
  alarms: readonly Alarm[],
): TellDecision | null {
  const found = personHold(person, path, now, intervalMs(alarms, path, limits));
  return found === null ? null : held(found.hold, grounds(found.text));
}

/** How long the alarms have gone without an answer. */
function unansweredSince(alarms: readonly Alarm[], { now, limits }: Question): number {
  return Math.min(...alarms.map((alarm) => answerHoldsUntil(alarm, limits) ?? alarm.activeAt ?? now));
}

function heldByRung(question: Question, alarms: readonly Alarm[]): TellDecision | null {
  const { person, path, now } = question;
  const rung = path.ladder?.[rungOf(person, path) - 1];
  if (rung === undefined) return null;
  const dueAt = unansweredSince(alarms, question) + rung.afterMin * MINUTE;
  if (now < dueAt) {
    const text = `${person.id} is told if nobody has answered by ${instantText(dueAt)}.`;
    return held(
      { because: "later-rung", by: null, untilAt: dueAt },
      grounds(text, { afterMin: rung.afterMin }),
    );
  }
  const opensAt = nextWithin(rung.hours ?? [], now, person.zone);
  if (opensAt === null || opensAt <= now) return null;
  const text = `This step of the ladder begins at ${instantText(opensAt)}.`;
  return held({ because: "rung-hours", by: null, untilAt: opensAt }, grounds(text));
}

/** When the next message is due after the last one, and what for. */
function dueAfterLast(question: Question, lastAt: number, alarms: readonly Alarm[]): Due {
  const { path, limits, last } = question;
  const each = alarms.map((alarm): Due => {
    const told = last!.told.find((said) => said.alarm === alarm.id);
    const repeatAt = lastAt + intervalMs([alarm], path, limits);
    if (told === undefined) {
      const furtherAt = lastAt + limits.furtherSignMin.value * MINUTE;
      return { at: Math.min(repeatAt, furtherAt), news: `further sign: ${SIGNS[alarm.sign].title}` };
    }
    if (told.occurrence >= alarm.occurrence) return { at: repeatAt, news: null };
    const news = `${SIGNS[alarm.sign].title} again`;
    return { at: told.condition === "clear" ? lastAt : repeatAt, news };
  });
  return each.toSorted((one, other) => one.at - other.at || (one.news === null ? 1 : -1))[0]!;
}

interface Due {
  readonly at: number;
  /** What this person does not know yet; null for a repeat. */
  readonly news: string | null;
}

function heldByInterval(question: Question, alarms: readonly Alarm[]): TellDecision | null {
  const { now, limits } = question;
  const lastAt = lastSentAt(question);
  if (lastAt === null) return null;
  const due = dueAfterLast(question, lastAt, alarms);
  if (now >= due.at) return null;
  const text = `The last message was ${durationText(now - lastAt)} ago; the next is due at ${instantText(due.at)}.`;
  const by = named(limits, "repeatMin", "upkeepRepeatMin", "furtherSignMin");
  return held({ because: "interval", by: null, untilAt: due.at }, grounds(text, {}, by));
}

function heldByReadingHours(question: Question, alarms: readonly Alarm[]): TellDecision | null {
  const lastAt = lastSentAt(question);
  if (lastAt === null || dueAfterLast(question, lastAt, alarms).news !== null) return null;
  const readsAt = readsNextAt(question.person, question.now);
  if (readsAt === null) return null;
  const text = `Told already; ${question.person.id} does not read before ${instantText(readsAt)}.`;
  return held({ because: "reading-hours", by: null, untilAt: readsAt }, grounds(text));
}

function tell(question: Question, unanswered: readonly Alarm[], loud: readonly Alarm[]): TellDecision {
  const { matter, person, path, last, now, limits } = question;
  const { kind, reason } = kindAndReason(question, unanswered);
  const message = messageToSend({
    matter: matter.id,
    path: path.id,
    person: person.id,
    kind,
    sequence: (last?.sequence ?? 0) + 1,
    told: toldAfter(last?.told ?? [], loud),
  });
  const nextLookAt = now + intervalMs(unanswered, path, limits);
  return { tell: true, kind, message, reason, nextLookAt };
}

function kindAndReason(
  question: Question,
  alarms: readonly Alarm[],
): { readonly kind: MessageKind; readonly reason: Grounds } {
  const { person, path, limits, now } = question;
  const lastAt = lastSentAt(question);
  if (lastAt === null) {
    if (rungOf(person, path) === 0)
      return { kind: "first", reason: grounds(`First: ${titles(alarms)}.${clearedWords(alarms)}`) };
    const since = durationText(now - unansweredSince(alarms, question));
    const text = `Escalation: ${titles(alarms)}, for ${since} without an answer.`;
    return { kind: "escalation", reason: grounds(text) };
  }
  const due = dueAfterLast(question, lastAt, alarms);
  if (due.news !== null) return { kind: "first", reason: grounds(`News: ${due.news}.`) };
  const answer = stopsWhen(path, "acknowledged") ? "not acknowledged" : "not cleared";
  const since = Number.isFinite(lastAt)
    ? `${durationText(now - lastAt)} since the last message`
    : "the clock went back";
  const text = `Repeat: ${since}, ${answer}.`;
  const figures = { intervalMin: pathIntervalMs(path, limits) / MINUTE };
  return { kind: "repeat", reason: grounds(text, figures, named(limits, "repeatMin", "upkeepRepeatMin")) };
}

function clearedWords(alarms: readonly Alarm[]): string {
  return alarms.every(({ condition }) => condition === "clear")
    ? " It has cleared, and nobody had answered."
    : "";
}
