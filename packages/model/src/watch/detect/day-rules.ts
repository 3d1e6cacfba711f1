import { type Grounds, grounds, listed, named, ohmsText } from "../grounds.ts";
import { daysLater, localTime } from "../time/zone.ts";
import type { Decision } from "./decision.ts";
import type { ArrayLimits, DayOfChecks, DaySign, DetectorState } from "./detector-state.ts";
import type { DailyMinimum, DriftRule } from "./drift.ts";

/** Moves the level of a sign that the days decide, and says why. */
export function moveDaySign(
  state: DetectorState,
  sign: DaySign,
  active: boolean,
  at: number,
  reason: Grounds,
): { readonly state: DetectorState; readonly decision: Decision } {
  const change = active === state.daySigns[sign] ? "unchanged" : active ? "set" : "cleared";
  return {
    state: change === "unchanged" ? state : { ...state, daySigns: { ...state.daySigns, [sign]: active } },
    decision: { sign, change, at, reason },
  };
}

interface Answer {
  readonly sign: DaySign;
  readonly active: boolean | "cannot-tell";
  readonly reason: Grounds;
}

/** The same array on so many mornings of so many: weather does not explain that, a damaged place does. */
function recursByDawn(state: DetectorState, today: string, limits: ArrayLimits): Answer {
  const { recurringMornings, recurringDays } = limits.watch;
  const since = daysLater(today, 1 - recurringDays.value);
  const mornings = state.faultMornings.filter((date) => date >= since && date <= today);
  const text = `A fault began on ${mornings.length} of the last ${recurringDays.value} mornings${mornings.length > 0 ? `: ${listed(mornings)}` : ""}.`;
  const by = named(limits.watch, "recurringMornings", "recurringDays", "morningEndsMin");
  return {
    sign: "dawn-recurring",
    active: mornings.length >= recurringMornings.value,
    reason: grounds(text, { mornings: mornings.length }, by),
  };
}

function isAtCeiling(ohms: number, { insulationCeiling }: ArrayLimits): boolean {
  return insulationCeiling !== null && ohms >= insulationCeiling.value;
}

/** One device whose every check on the last days with checks gave one and the same value below its ceiling. */
function isStuck(days: readonly DayOfChecks[], limits: ArrayLimits): boolean {
  const last = days.slice(-limits.watch.stuckDays.value);
  const value = last[0]?.lowestOhms;
  if (value === undefined || last.length < limits.watch.stuckDays.value) return false;
  if (isAtCeiling(value, limits)) return false;
  return last.every(({ lowestOhms, highestOhms }) => lowestOhms === value && highestOhms === value);
}

function stuck(state: DetectorState, limits: ArrayLimits): Answer {
  const devices = [...new Set(state.days.map(({ device }) => device))];
  const found = devices.filter((device) =>
    isStuck(
      state.days.filter((day) => day.device === device),
      limits,
    ),
  );
  const ceiling = limits.insulationCeiling;
  const by = [
    ...named(limits.watch, "stuckDays"),
    ...(ceiling === null ? [] : [{ name: "insulationCeiling", unit: "ohm", ...ceiling }]),
  ];
  const text =
    found.length === 0
      ? "No device gave one and the same insulation day after day."
      : `${listed(found)} gave ${ohmsText({ ohms: state.days.findLast(({ device }) => device === found[0])!.lowestOhms })} to the digit on ${limits.watch.stuckDays.value} days with checks. A healthy value wanders: test the detector.`;
  return { sign: "detector-stuck", active: found.length > 0, reason: grounds(text, {}, by) };
}

/** Lowest value of each date over all devices. */
function dailyMinima(days: readonly DayOfChecks[], limits: ArrayLimits): readonly DailyMinimum[] {
  const lowest = new Map<string, number>();
  for (const { date, lowestOhms } of days) {
    lowest.set(date, Math.min(lowestOhms, lowest.get(date) ?? lowestOhms));
  }
  return [...lowest].map(([date, ohms]) => ({ date, ohms, atLeast: isAtCeiling(ohms, limits) }));
}

function drifts(state: DetectorState, limits: ArrayLimits, rule: DriftRule): Answer {
  const { drifting, reason } = rule(dailyMinima(state.days, limits), limits.watch);
  return { sign: "insulation-drifting", active: drifting, reason };
}

interface Answered {
  readonly faultMornings: DetectorState["faultMornings"];
  readonly today: string;
  readonly watch: ArrayLimits["watch"];
  readonly insulationCeiling: ArrayLimits["insulationCeiling"];
  readonly rule: DriftRule;
  readonly answers: readonly Answer[];
}

/** The days are asked with every reading, and few readings change them: the last answers about the same days are kept. */
const answeredOf = new WeakMap<DetectorState["days"], Answered>();

function answersOf(
  state: DetectorState,
  limits: ArrayLimits,
  rule: DriftRule,
  today: string,
): readonly Answer[] {
  const { faultMornings, days } = state;
  const { watch, insulationCeiling } = limits;
  const last = answeredOf.get(days);
  const isSame =
    last?.faultMornings === faultMornings &&
    last.today === today &&
    last.watch === watch &&
    last.insulationCeiling === insulationCeiling &&
    last.rule === rule;
  if (isSame) return last.answers;
  const answers = [recursByDawn(state, today, limits), stuck(state, limits), drifts(state, limits, rule)];
  answeredOf.set(days, { faultMornings, today, watch, insulationCeiling, rule, answers });
  return answers;
}

/** What the days together say: recurring, stuck, drifting. Missed checks are judged by the hour. */
export function judgeDays(
  state: DetectorState,
  limits: ArrayLimits,
  rule: DriftRule,
  at: number,
): { readonly state: DetectorState; readonly decisions: readonly Decision[] } {
  // A reading that comes late does not turn the calendar back.
  const newestAt = state.levels.reduce((latest, level) => Math.max(latest, level.at), at);
  const today = localTime(newestAt, limits.zone).date;
  let judged = state;
  const decisions: Decision[] = [];
  for (const { sign, active, reason } of answersOf(state, limits, rule, today)) {
    if (active === "cannot-tell") {
      decisions.push({ sign, change: "cannot-tell", at, reason });
      continue;
    }
    const moved = moveDaySign(judged, sign, active, at, reason);
    judged = moved.state;
    decisions.push(moved.decision);
  }
  return { state: judged, decisions };
}
