import {
  type Alarm,
  type AlarmEvent,
  type AlarmStep,
  type Case,
  type Effect,
  followAlarm,
  newAlarm,
  type Sign,
  type SignKind,
  type Subject,
  transition,
  withNotes,
} from "@earthbell/model";
import { type Draft, noteHappening } from "./draft.ts";
import type { SiteDraft } from "./site-room.ts";

/** Stays the same for the same sign of the same array or path; safe in a URL. */
function alarmId(site: string, subject: Subject, sign: SignKind): string {
  const about =
    subject.kind === "array"
      ? ["array", subject.array, sign]
      : ["path", subject.path, sign, ...(subject.person === null ? [] : [subject.person])];
  return [site, ...about].map(encodeURIComponent).join(":");
}

/** Feeds the alarm of a sign, and the case of its array. */
export function takeSign(draft: Draft, site: SiteDraft, sign: Sign): void {
  const id = alarmId(site.id, sign.subject, sign.sign);
  const known = site.alarms.get(id);
  if (known === undefined && sign.change === "cleared") return;
  const alarm = known ?? newAlarm(id, site.id, sign.subject, sign.sign);
  site.saw.set(id, [...(site.saw.get(id) ?? []), sign.reason.text]);
  const text = `${sign.change === "set" ? "Set" : "Cleared"}: ${sign.reason.text}`;
  noteHappening(draft, { at: sign.at, kind: "sign", site: site.id, subject: id, by: null, text });
  moveAlarm(draft, site, alarm, { type: sign.change }, sign.at);
}

/** Takes what is asked about again and again; only an answer that differs from the alarm's is a sign. */
export function takeChanged(draft: Draft, site: SiteDraft, sign: Sign): void {
  const alarm = site.alarms.get(alarmId(site.id, sign.subject, sign.sign));
  const active = alarm?.condition === "active";
  if (active !== (sign.change === "set")) takeSign(draft, site, sign);
}

/** One step of one alarm, brought into the case of its array and onto the record. */
export function moveAlarm(
  draft: Draft,
  site: SiteDraft,
  alarm: Alarm,
  event: AlarmEvent,
  at: number,
): AlarmStep {
  const step = transition(alarm, event, at, draft.limits);
  if (!step.ok) return step;
  storeAlarm(draft, site, step.alarm, step.effects, at);
  return step;
}

/** Stores an alarm that has moved, with what its step asked for. */
export function storeAlarm(
  draft: Draft,
  site: SiteDraft,
  alarm: Alarm,
  effects: readonly Effect[],
  at: number,
): void {
  site.alarms.set(alarm.id, alarm);
  if (alarm.subject.kind === "array") followInCase(draft, site, alarm, alarm.subject.array, effects, at);
  for (const effect of effects) {
    if (effect.effect !== "note") continue;
    const { at: notedAt, by, text } = effect;
    noteHappening(draft, { at: notedAt, kind: "alarm", site: site.id, subject: alarm.id, by, text });
  }
  site.changed = true;
}

function followInCase(
  draft: Draft,
  site: SiteDraft,
  alarm: Alarm,
  array: string,
  effects: readonly Effect[],
  at: number,
): void {
  const newId = `C${draft.counters.cases + 1}`;
  const cases = casesOfArray(site, array);
  const followed = followAlarm(cases, alarm, { at, newId }, draft.limits);
  if (followed.earlier !== null) site.cases.set(followed.earlier.id, followed.earlier);
  if (followed.open === null) return;
  if (followed.outcome === "opened") {
    draft.counters.cases += 1;
    noteHappening(draft, {
      at,
      kind: "case",
      site: site.id,
      subject: newId,
      by: null,
      text: followed.reason,
    });
  }
  const noted = withNotes(followed.open, effects);
  if (JSON.stringify(noted) !== JSON.stringify(cases.open)) site.cases.set(noted.id, noted);
}

function casesOfArray(
  site: SiteDraft,
  array: string,
): { readonly open: Case | null; readonly lastClosed: Case | null } {
  const own = site.cases.values().filter((one) => one.array === array);
  const closed = own.filter((one) => one.closed !== null);
  return {
    open: own.find((one) => one.closed === null) ?? null,
    lastClosed: closed.toSorted((one, other) => other.closed!.at - one.closed!.at)[0] ?? null,
  };
}
