import { grounds, instantText, listed, named } from "../grounds.ts";
import { MINUTE } from "../time/span.ts";
import type { SunOfDay } from "../time/sunrise.ts";
import { instantOf, localTime } from "../time/zone.ts";
import { moveDaySign } from "./day-rules.ts";
import type { Decision } from "./decision.ts";
import type { ArrayLimits, DetectorState } from "./detector-state.ts";

const SIGN_OF_KIND = { insulation: "insulation-low", "earth-fault-bit": "earth-fault-bit" } as const;

/** Devices that should have checked by now on this local date and have not. */
function missing(state: DetectorState, limits: ArrayLimits, date: string): readonly string[] {
  return limits.morningChecks
    .filter(({ device, kind }) =>
      state.levels.every(
        (level) =>
          level.device !== device ||
          level.sign !== SIGN_OF_KIND[kind] ||
          localTime(level.at, limits.zone).date < date,
      ),
    )
    .map(({ device }) => device);
}

/** When the morning's check of a date is missed: at the end of the morning, or some hours after a late sunrise. */
export function checkDueAt(date: string, limits: ArrayLimits, sun: SunOfDay): number | null {
  const morningEnd = instantOf(date, limits.watch.morningEndsMin.value, limits.zone);
  switch (sun.kind) {
    case "down-all-day":
      return null;
    case "unknown":
      return morningEnd;
    case "up":
      return Math.max(morningEnd, sun.at + limits.watch.checkAfterSunriseMin.value * MINUTE);
  }
}

/** Whether the check of this morning was missed. Once missed it stays missed until a check comes. */
export function judgeMorningCheck(
  state: DetectorState,
  limits: ArrayLimits,
  now: number,
  sun: SunOfDay,
): { readonly state: DetectorState; readonly decision: Decision } {
  const sign = "detector-silent";
  const { date } = localTime(now, limits.zone);
  const by = named(limits.watch, "morningEndsMin", "checkAfterSunriseMin");
  const silent = missing(state, limits, date);
  const say = (active: boolean, text: string) =>
    moveDaySign(state, sign, active, now, grounds(text, { devices: silent.length }, by));
  if (limits.morningChecks.length === 0) return say(false, "No device is expected to check every morning.");
  if (silent.length === 0) return say(false, `Every device has checked on ${date}.`);
  const dueAt = checkDueAt(date, limits, sun);
  const before = state.daySigns[sign];
  if (dueAt === null) return say(before, `The sun stays down on ${date}: no check is expected.`);
  if (now < dueAt) return say(before, `The check of ${date} is missed from ${instantText(dueAt)} on.`);
  const missed = say(
    true,
    `${listed(silent)} gave no good check on ${date} up to ${instantText(dueAt)}. Until it does, a fault would go unseen.`,
  );
  return { ...missed, state: { ...missed.state, missedOn: date } };
}

/** A missed check is made up for by a good check of that day or a later one. */
export function judgeResumed(
  state: DetectorState,
  limits: ArrayLimits,
  at: number,
): { readonly state: DetectorState; readonly decisions: readonly Decision[] } {
  const sign = "detector-silent";
  const { missedOn } = state;
  if (!state.daySigns[sign] || missedOn === null) return { state, decisions: [] };
  if (missing(state, limits, missedOn).length > 0) return { state, decisions: [] };
  const moved = moveDaySign(state, sign, false, at, grounds(`The check missed on ${missedOn} has come.`));
  return { state: moved.state, decisions: [moved.decision] };
}
