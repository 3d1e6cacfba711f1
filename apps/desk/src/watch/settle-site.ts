import type { Site } from "@earthbell/engine";
import {
  type Alarm,
  type DetectorState,
  forgetDevice,
  lifeEveryMinOf,
  signOfLife,
  SIGNS,
  watchPath,
} from "@earthbell/model";
import type { Draft } from "./draft.ts";
import { takeSign } from "./move-alarm.ts";
import { tellPaths } from "./recipients.ts";
import type { SiteDraft } from "./site-room.ts";

/** Brings what is watched at a site in line with its new file. */
export function settleSite(draft: Draft, site: SiteDraft, before: Site | null): void {
  for (const path of site.filed.site.paths)
    if (path.signal === "message") settlePath(draft, site, path.id, lifeEveryMinOf(path));
  const gone = (before?.inverters ?? []).filter(
    ({ id }) => !site.filed.site.inverters.some((inverter) => inverter.id === id),
  );
  for (const { id } of gone) settleDevice(draft, site, id);
  for (const alarm of site.alarms.values()) {
    if (alarm.condition === "active" && !hasSubject(site, alarm))
      clear(draft, site, alarm, "What it was about is no longer in the site file.");
  }
}

function settlePath(draft: Draft, site: SiteDraft, path: string, lifeEveryMin: number | null): void {
  const known = site.watches.get(path);
  if (known?.lifeEveryMin === lifeEveryMin) return;
  const watch =
    known === undefined
      ? watchPath({ site: site.id, path }, lifeEveryMin, draft.now, draft.limits)
      : signOfLife({ ...known, lifeEveryMin }, known.lastLifeAt, draft.now, draft.limits);
  site.watches.set(path, watch);
}

/** A fault that a removed device reported last would otherwise stay active for ever. */
function settleDevice(draft: Draft, site: SiteDraft, device: string): void {
  for (const state of site.detectors.values()) {
    const forgotten = forgetDevice(state, device);
    site.detectors.set(state.array, forgotten);
    for (const alarm of site.alarms.values()) {
      const { subject } = alarm;
      if (subject.kind !== "array" || subject.array !== state.array || alarm.condition !== "active") continue;
      if (says(state, alarm) && !says(forgotten, alarm))
        clear(draft, site, alarm, `Device ${device}, which reported it, is no longer in the site file.`);
    }
  }
}

function says({ levels }: DetectorState, alarm: Alarm): boolean {
  return levels.some(({ sign, active }) => active && sign === alarm.sign);
}

/** A fault stays with its case although its array was renamed; what only wanted looking after goes with its array or path. */
function hasSubject(site: SiteDraft, { subject, sign }: Alarm): boolean {
  const { arrays } = site.filed.site;
  if (subject.kind === "array")
    return SIGNS[sign].faultPresent || arrays.some(({ id }) => id === subject.array);
  const path = tellPaths(site).find(({ id }) => id === subject.path);
  if (path === undefined) return false;
  if (subject.person === null) return true;
  return [...path.to, ...(path.ladder ?? []).flatMap(({ to }) => to)].includes(subject.person);
}

function clear(draft: Draft, site: SiteDraft, { subject, sign, id }: Alarm, text: string): void {
  takeSign(draft, site, {
    site: site.id,
    subject,
    sign,
    change: "cleared",
    at: draft.now,
    key: JSON.stringify([id, "site file", draft.now]),
    reason: { text, figures: {}, limits: [] },
  });
}
