import {
  beaconsLitBy,
  type Drill,
  drillLightEndsAt,
  drillSigns,
  type DrillStart,
  type DrillStep,
  lookAtDrill,
  nextDrillOn,
  plannedDrillAt,
  proofOfDrill,
  startDrill,
} from "@earthbell/model";
import { beaconsOfPath } from "./beacons.ts";
import { type Draft, noteHappening } from "./draft.ts";
import { takeChanged } from "./move-alarm.ts";
import { tellKeepers } from "./notices.ts";
import type { Telling } from "./occasions.ts";
import { type BrokenWays, tellPaths, tellPeople } from "./recipients.ts";
import type { SiteDraft } from "./site-room.ts";

const DAY = 86_400_000;
/** A drill that was missed, or reached nobody, is held again after this, unless somebody plans otherwise. */
const HELD_AGAIN_MS = 7 * DAY;
/** Scheduled drills begin at ten in the morning of the site. */
const STARTS_AT_MIN = 600;

/** Starts a drill of a path; null where the site has no such message path. */
export function beginDrill(
  draft: Draft,
  site: SiteDraft,
  path: string,
  trigger: DrillStart["trigger"],
  around: { readonly telling: Telling; readonly broken: BrokenWays },
): DrillStep | null {
  const told = tellPaths(site).find(({ id }) => id === path);
  if (told === undefined) return null;
  const people = tellPeople(site, around.telling.channels, around.broken);
  const id = `D${draft.counters.drills + 1}`;
  const beacons = beaconsOfPath(around.telling.beacons ?? [], site.id, path);
  const step = startDrill({ id, path: told, people, beacons, trigger }, draft.now, draft.limits);
  if (!step.ok) return step;
  draft.counters.drills += 1;
  keepDrill(draft, site, step.drill, step.reason);
  return step;
}

export function keepDrill(draft: Draft, site: SiteDraft, drill: Drill, text: string, by = drill.by): void {
  site.drills.set(drill.id, drill);
  site.changed = true;
  noteHappening(draft, { kind: "drill", site: site.id, subject: drill.id, by, text });
}

/** Begins the drills that are due and ends those whose time is over. */
export async function lookAtDrills(
  draft: Draft,
  site: SiteDraft,
  telling: Telling,
  broken: BrokenWays,
): Promise<void> {
  for (const { path, at } of site.plans.values()) {
    if (at === null || at > draft.now) continue;
    const step = beginDrill(draft, site, path, { kind: "scheduled" }, { telling, broken });
    site.plans.set(path, { path, at: step === null ? null : draft.now + HELD_AGAIN_MS });
    if (step?.ok === false)
      noteHappening(draft, {
        kind: "drill",
        site: site.id,
        subject: path,
        by: null,
        text: step.refusal.text,
      });
  }
  for (const drill of site.drills.values()) {
    if (drill.ended !== null) continue;
    const looked = lookAtDrill(drill, draft.now);
    if (looked.drill.ended !== null) await endDrill(draft, site, looked.drill, looked.reason, telling);
  }
}

/**
 * Stores a drill that has ended, and what follows: an alarm about each person who did not answer, until that person does; the
 * next one is planned, or the keepers hear that it was missed.
 */
export async function endDrill(
  draft: Draft,
  site: SiteDraft,
  drill: Drill,
  reason: string,
  telling: Telling,
): Promise<void> {
  keepDrill(draft, site, drill, reason, null);
  for (const sign of drillSigns(drill)) takeChanged(draft, site, sign);
  const proof = proofOfDrill(drill, site.filed.site.place.timezone ?? "UTC");
  if (proof === null) {
    const text = `Drill ${drill.id} of path ${drill.path} at ${site.id}. ${reason} The path is not proven.`;
    await tellKeepers(
      draft,
      telling,
      { about: "notice", notice: "drill-missed", text, at: draft.now },
      drill.id,
      site,
    );
    return;
  }
  const plan = site.plans.get(drill.path);
  if (plan === undefined || plan.at === null) return;
  const zone = site.filed.site.place.timezone ?? "UTC";
  const at = plannedDrillAt(nextDrillOn(proof.on, draft.limits), STARTS_AT_MIN, zone);
  site.plans.set(drill.path, { path: drill.path, at });
}

export function nextDrillLookAt(draft: Draft, site: SiteDraft): readonly number[] {
  return [
    ...site.drills.values().flatMap((drill) => {
      if (drill.ended !== null) return [];
      const lights = beaconsLitBy(drill, draft.now).map((one) => drillLightEndsAt(drill, one));
      return [drill.answerByAt + 1, ...lights];
    }),
    ...site.plans.values().flatMap(({ at }) => at ?? []),
  ];
}
