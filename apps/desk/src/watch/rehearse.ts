import { checkReading, type WatchReading } from "@earthbell/model";
import type { Bulk } from "../store/bulk.ts";
import { done, notDone } from "./answers.ts";
import { arraysOf, limitsOf } from "./detect-in-sites.ts";
import { type Draft, noteHappening } from "./draft.ts";
import { beginDrill } from "./drills.ts";
import type { Telling } from "./occasions.ts";
import { tellPaths } from "./recipients.ts";
import { brokenWays } from "./rounds.ts";
import type { SiteDraft } from "./site-room.ts";
import { readingRow } from "./take-readings.ts";
import type { Answer } from "./watch.ts";

/**
 * Begins a drill of every message path of the arrays at which a device simulates a fault, so that the rehearsal runs from
 * the device to the person. The readings go on record under a source of their own and move no detector and no alarm.
 */
export async function rehearse(
  draft: Draft,
  inputs: readonly WatchReading[],
  by: string,
  { bulk, telling }: { readonly bulk: Bulk; readonly telling: Telling },
): Promise<Answer<{ readonly drills: readonly string[] }>> {
  if (by.trim() === "")
    return notDone("DESK_NAME_MISSING", "Give the name of the person who holds the drill.");
  const readings = inputs.flatMap((input) => {
    const checked = checkReading(input);
    return checked.ok ? [checked.reading] : [];
  });
  await draft.enter(readings.map(({ site }) => site));
  const faults = readings.flatMap((reading) => {
    const site = draft.sites.get(reading.site);
    return site !== undefined && showsFault(site, reading) ? [{ site, reading }] : [];
  });
  const added = await bulk.addReadings(
    draft.tx,
    faults.map(({ reading }) => readingRow({ ...reading, source: `drill ${reading.source}` }, draft.now)),
  );
  const around = { telling, broken: await brokenWays(draft.tx) };
  const drills: string[] = [];
  for (const { site, reading } of faults) {
    if (!added.has(reading.key)) continue;
    const text = `${reading.device} simulates a fault for a drill (${reading.kind}).`;
    noteHappening(draft, { kind: "drill", site: site.id, subject: reading.key, by, text });
    for (const path of pathsToDrill(site, reading)) {
      const step = beginDrill(draft, site, path, { kind: "on-demand", by }, around);
      if (step?.ok !== true) continue;
      drills.push(step.drill.id);
      draft.drillReadings.set(step.drill.id, reading.key);
    }
  }
  if (faults.length === 0)
    return notDone("DESK_REHEARSAL_NO_FAULT", "None of these readings of a known site shows a fault.");
  return done(
    `Drills begun: ${drills.length === 0 ? "none that does not run already" : drills.join(", ")}.`,
    { drills },
  );
}

function showsFault(site: SiteDraft, reading: WatchReading): boolean {
  const { kind, value, quality } = reading;
  if (quality !== "good") return false;
  if (kind === "earth-fault-bit" || kind === "residual-trip") return value === true;
  if (kind !== "insulation") return false;
  return arraysOf(site, reading).some((array) => {
    const { insulationThreshold } = limitsOf(site, array);
    return insulationThreshold !== null && Number(value) < insulationThreshold.value;
  });
}

/** Message paths of the arrays concerned, but for those on which a drill is running. */
function pathsToDrill(site: SiteDraft, reading: WatchReading): readonly string[] {
  const arrays = arraysOf(site, reading);
  const serving = site.filed.site.paths.filter((path) => path.arrays.some((array) => arrays.includes(array)));
  const running = new Set(
    site.drills
      .values()
      .filter(({ ended }) => ended === null)
      .map(({ path }) => path),
  );
  return tellPaths(site)
    .map(({ id }) => id)
    .filter((id) => !running.has(id) && serving.some((path) => path.id === id));
}
