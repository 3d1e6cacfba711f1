import { figure } from "../path/judgement.ts";
import type { AmpereHours } from "../quantity/index.ts";
import { batteryNeeded } from "./battery-size.ts";
import { changed, type Draft, stuck } from "./repair.ts";
import { batteryAtLeast } from "./standard-sizes.ts";

/** Currents of the loop at rest and while sounding; an unstated current at rest is taken as the load's own. */
export function loopCurrents(draft: Draft): { readonly quiescentA: number; readonly alarmA: number } | null {
  const { load, quiescentCurrent } = draft.loop;
  if (load === undefined) return null;
  const supplyV = draft.loop.supply ?? draft.loop.supplyMinimum ?? 0;
  const watching =
    draft.endOfLine === null ? 0 : supplyV / (draft.endOfLine.ohms + draft.endOfLine.seriesOhms);
  const coil = draft.relay?.coilA ?? 0;
  const coilAtRest = draft.loop.sense === "de-energise-to-alarm" ? coil : 0;
  return {
    quiescentA: (quiescentCurrent ?? load.current) + watching + coilAtRest,
    alarmA: load.current + coil,
  };
}

export function batteryNeed(draft: Draft): number | null {
  const currents = loopCurrents(draft);
  if (currents === null) return null;
  const { standbyHours, alarmHours } = draft.request;
  return batteryNeeded({
    ...currents,
    ...(standbyHours === undefined ? {} : { standbyHours }),
    ...(alarmHours === undefined ? {} : { alarmHours }),
  });
}

/** Battery of the next usual size for the hours asked. */
export function sizeBattery(draft: Draft): Draft {
  const needed = batteryNeed(draft);
  const { battery } = draft.loop;
  if (needed === null || (battery !== undefined && battery >= needed)) return draft;
  const size = batteryAtLeast(needed);
  const why = `${figure(draft.request.standbyHours ?? 24)} h at rest and then sounding take ${figure(needed, 2)} Ah, ageing included.`;
  if (size === null) return stuck(draft, `${why} No usual battery gives that. Reduce the current at rest.`);
  const from = battery === undefined ? "none" : `${figure(battery, 1)} Ah`;
  return changed(
    draft,
    { battery: size as AmpereHours },
    { part: "battery", from, to: `${figure(size, 1)} Ah`, why },
  );
}
