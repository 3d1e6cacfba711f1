import { type Alarm, quietOf, SIGNS, type Subject } from "@earthbell/model";
import { isOfTheTrade } from "./cautions.ts";
import { instantWords } from "./instant-words.ts";
import type { AlarmOccasion } from "./occasion.ts";
import { oneLine } from "./one-line.ts";
import type { Part } from "./part.ts";
import { SIGN_WORDS } from "./sign-words.ts";

/** Alarms that the message speaks of: those that are there, else those that nobody has answered or signed, else all. */
export function alarmsSpokenOf({ matter }: AlarmOccasion): readonly Alarm[] {
  const come = matter.alarms.filter(({ occurrence }) => occurrence > 0);
  const open = come.filter(
    ({ condition, latched, acknowledged }) => condition === "active" || latched || acknowledged === null,
  );
  return open.length > 0 ? open : come;
}

/** It tells of an earth fault, not of a detector or a path that wants looking after. */
export function tellsOfFault(alarms: readonly Alarm[]): boolean {
  return alarms.some(({ sign }) => SIGNS[sign].opensCase);
}

function placeWords(subject: Subject): string {
  if (subject.kind === "array") return `array ${oneLine(subject.array)}`;
  const path = `path ${oneLine(subject.path)}`;
  return subject.person === null ? path : `${path} to ${oneLine(subject.person)}`;
}

export function siteName({ site }: Pick<AlarmOccasion, "site">): string {
  return oneLine(site.name ?? site.id);
}

export function titleOf(alarm: Alarm): string {
  return `${SIGNS[alarm.sign].title}, ${placeWords(alarm.subject)}`;
}

/** What happened and when, in the site's time and in UTC, then what it means. */
export function happenedPart(occasion: AlarmOccasion, alarms: readonly Alarm[]): Part {
  const meaning = new Set(
    alarms.map(({ sign }) => SIGN_WORDS[sign][isOfTheTrade(occasion) ? "trade" : "owner"]),
  );
  return {
    heading: `What happened at ${siteName(occasion)}`,
    list: [
      ...alarms.map((alarm) => alarmLine(occasion, alarm)),
      ...(occasion.saw ?? []).map((line) => oneLine(line, 300)),
      ...meaning,
    ],
  };
}

function alarmLine({ site, now }: AlarmOccasion, alarm: Alarm): string {
  const at = (instant: number) => instantWords(instant, site.zone);
  const title = titleOf(alarm);
  const began = alarm.activeAt === null ? "" : ` since ${at(alarm.activeAt)}`;
  const times = alarm.occurrence > 1 ? ` It has come ${alarm.occurrence} times.` : "";
  const quiet = quietOf(alarm, now)?.quiet;
  const kept =
    quiet === undefined
      ? ""
      : ` Kept quiet by ${oneLine(quiet.by)} until ${at(quiet.untilAt)}: ${oneLine(quiet.reason, 200)}`;
  const answer = alarm.acknowledged;
  const answered = answer === null ? "" : ` Acknowledged by ${oneLine(answer.by)} on ${at(answer.at)}.`;
  const state =
    alarm.condition === "active"
      ? `${began}. It is ${SIGNS[alarm.sign].opensCase ? "there" : "so"} now.`
      : alarm.clearedAt === null
        ? `${began}.`
        : ` from ${alarm.activeAt === null ? "an unknown time" : at(alarm.activeAt)}, cleared ${at(alarm.clearedAt)}.`;
  return `${capital(title)}:${state}${times}${answered}${kept}`;
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
