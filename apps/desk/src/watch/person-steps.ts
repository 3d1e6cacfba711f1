import {
  acknowledgeAll,
  acknowledgeDrill,
  type Alarm,
  type AlarmEvent,
  beaconsOfDrill,
  type Case,
  type CaseEffect,
  type CaseEvent,
  caseStep,
  type Drill,
  type DrillStep,
  forgetMornings,
  nextSunriseAt,
  seeBeacon as stepToSee,
} from "@earthbell/model";
import { done, notDone } from "./answers.ts";
import { type Draft, noteHappening } from "./draft.ts";
import { endDrill, keepDrill } from "./drills.ts";
import { findMatter, type Found } from "./find-matter.ts";
import { sunPlaceOf } from "./look-at-sites.ts";
import { moveAlarm, storeAlarm } from "./move-alarm.ts";
import type { Telling } from "./occasions.ts";
import type { SiteDraft } from "./site-room.ts";
import type { Answer, NotDone, PersonAlarmEvent, SeenBeacon } from "./watch.ts";

function unknown(id: string): NotDone {
  return notDone("DESK_MATTER_UNKNOWN", `Nothing on record has the id ${id}.`);
}

/** What a person does to one alarm. */
export async function stepAlarm(draft: Draft, id: string, event: PersonAlarmEvent): Promise<Answer> {
  const found = await findMatter(draft, id);
  if (found?.kind !== "alarm") return unknown(id);
  const step = moveAlarm(draft, found.site, found.alarm, withSunrise(draft, found.site, event), draft.now);
  return step.ok ? done(step.reason, {}) : step;
}

function withSunrise({ now }: Draft, site: SiteDraft, event: PersonAlarmEvent): AlarmEvent {
  if (event.type !== "shelve") return event;
  const place = sunPlaceOf(site);
  return { ...event, nextSunriseAt: place === null ? null : nextSunriseAt(now, place) };
}

/** Acknowledges an alarm, everything that waits for it in a case, or a drill. */
export async function acknowledge(draft: Draft, id: string, by: string, telling: Telling): Promise<Answer> {
  const found = await findMatter(draft, id);
  if (found === null) return unknown(id);
  switch (found.kind) {
    case "alarm": {
      const at = answeredAt(draft, [found.alarm]);
      const step = moveAlarm(draft, found.site, found.alarm, { type: "acknowledge", by }, at);
      return step.ok ? done(step.reason, {}) : step;
    }
    case "case": {
      const alarms = found.one.alarms.flatMap((alarm) => found.site.alarms.get(alarm) ?? []);
      return acknowledgeAlarms(draft, found.site, alarms, by);
    }
    case "drill":
      return answerDrill(draft, found, by, telling);
  }
}

/** Whoever answers has the alarm before their eyes, whatever a clock that went back in between makes of its instant. */
function answeredAt({ now }: Draft, alarms: readonly Alarm[]): number {
  return Math.max(now, ...alarms.map(({ activeAt }) => activeAt ?? now));
}

/** Acknowledges those of these alarms that wait for it; refused where none does. */
export function acknowledgeAlarms(
  draft: Draft,
  site: SiteDraft,
  alarms: readonly Alarm[],
  by: string,
): Answer {
  if (by.trim() === "") return notDone("DESK_NAME_MISSING", "Give the name of the person who acknowledges.");
  const at = answeredAt(draft, alarms);
  const { alarms: after, acknowledged, effects } = acknowledgeAll(alarms, by, at, draft.limits);
  const stepped = after.filter(({ id }) => acknowledged.includes(id));
  if (stepped.length === 0)
    return {
      ok: false,
      refusal: { code: "ALARM_ACKNOWLEDGE_NOTHING", text: "Nothing of it waits for an acknowledgement." },
    };
  for (const [place, alarm] of stepped.entries())
    storeAlarm(draft, site, alarm, place === 0 ? effects : [], at);
  return done(`${stepped.length === 1 ? "1 alarm" : `${stepped.length} alarms`} acknowledged by ${by}.`, {});
}

export async function answerDrill(
  draft: Draft,
  { site, drill }: Extract<Found, { kind: "drill" }>,
  person: string,
  telling: Telling,
): Promise<Answer> {
  const step = acknowledgeDrill(drill, person, draft.now);
  if (step.ok && step.drill !== drill)
    await keepStep(
      draft,
      site,
      { before: drill, step, by: person, text: `${person} acknowledged.` },
      telling,
    );
  return step.ok ? done(step.reason, {}) : step;
}

/** Somebody says that they saw a beacon burn for a drill. */
export async function seeBeacon(
  draft: Draft,
  id: string,
  { seenAt, ...seen }: SeenBeacon,
  telling: Telling,
): Promise<Answer> {
  const found = await findMatter(draft, id);
  if (found?.kind !== "drill") return unknown(id);
  const { site, drill } = found;
  const step = stepToSee(drill, { ...seen, seenAt: seenAt ?? draft.now }, draft.now);
  if (!step.ok) return step;
  if (step.drill === drill) return done(step.reason, {});
  const { by, at } = beaconsOfDrill(step.drill).find(({ beacon }) => beacon === seen.beacon)!.seen!;
  const text = `${by} saw beacon ${seen.beacon} burn ${new Date(at).toISOString()}.`;
  await keepStep(draft, site, { before: drill, step, by, text }, telling);
  return done(`${text} ${step.reason}`, {});
}

interface DrillMoved {
  readonly before: Drill;
  readonly step: Extract<DrillStep, { readonly ok: true }>;
  readonly by: string;
  readonly text: string;
}

/** Stores what a person did in a drill, and its end where that ended it. */
async function keepStep(
  draft: Draft,
  site: SiteDraft,
  { before, step, by, text }: DrillMoved,
  telling: Telling,
): Promise<void> {
  keepDrill(draft, site, step.drill, text, by);
  if (step.drill.ended !== null && before.ended === null)
    await endDrill(draft, site, step.drill, step.reason, telling);
}

/** What a person does to a case, with what follows for its alarms and its array's memory. */
export async function stepCase(draft: Draft, id: string, event: CaseEvent): Promise<Answer> {
  const found = await findMatter(draft, id);
  if (found?.kind !== "case") return unknown(id);
  const { site, one } = found;
  const step = caseStep(one, event, draft.now);
  if (!step.ok) return step;
  keepCase(draft, site, step.case, event.by, step.reason);
  for (const effect of step.effects) carryOut(draft, site, effect);
  return done(step.reason, {});
}

function keepCase(draft: Draft, site: SiteDraft, one: Case, by: string, text: string): void {
  site.cases.set(one.id, one);
  site.changed = true;
  noteHappening(draft, { kind: "case", site: site.id, subject: one.id, by, text });
}

function carryOut(draft: Draft, site: SiteDraft, effect: CaseEffect): void {
  if (effect.effect === "forget-mornings") {
    const state = site.detectors.get(effect.array);
    if (state !== undefined) site.detectors.set(effect.array, forgetMornings(state));
    return;
  }
  const { by, cause } = effect;
  for (const id of effect.alarms) {
    const alarm = site.alarms.get(id);
    if (alarm?.latched === true) moveAlarm(draft, site, alarm, { type: "sign-cause", by, cause }, draft.now);
  }
}
