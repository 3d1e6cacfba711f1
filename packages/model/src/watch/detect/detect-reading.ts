import {
  type Grounds,
  grounds,
  groundsInWords,
  inPlainWords,
  instantText,
  named,
  ohmsText,
} from "../grounds.ts";
import type { WatchReading } from "../reading.ts";
import { SIGNS } from "../sign.ts";
import { localTime } from "../time/zone.ts";
import { judgeDays } from "./day-rules.ts";
import { type Decision, type Detection, detection } from "./decision.ts";
import {
  type ArrayLimits,
  type DetectorState,
  type Level,
  type ReadingSign,
  withCheck,
  withFaultMorning,
} from "./detector-state.ts";
import { type DriftRule, medianDrift } from "./drift.ts";
import { judgeResumed } from "./morning-check.ts";

/**
 * What one reading changes about an array.
 *
 * Only a good reading decides: anything else can neither raise nor clear, and shows up as a missed check. Each device and
 * way into the desk is followed by itself; a sign is active while any of them says so. A reading that comes late may
 * raise a sign that has cleared since (it is then set and cleared at once, so that the fault is on record), but clears
 * nothing. Taking the same reading again changes nothing further.
 *
 * @param reading  checked, and of this array (`arraysConcerned`)
 */
export function detectReading(
  state: DetectorState,
  reading: WatchReading,
  limits: ArrayLimits,
  rule: DriftRule = medianDrift,
): Detection {
  if (reading.quality !== "good") {
    const text = `A reading of ${reading.device} is ${reading.quality}: it decides nothing.`;
    return detection(state, [aside(reading, text)], reading.key);
  }
  switch (reading.kind) {
    case "earth-fault-bit":
    case "residual-trip": {
      const active = reading.value === true;
      const { kind } = reading;
      const text = () => `${reading.device} reports ${active ? "an" : "no"} ${BIT_WORDS[kind]}.`;
      const reason = groundsInWords(() => ({ text: text() }));
      return finish(state, reading, limits, rule, move(state, kind, active, reading, reason));
    }
    case "insulation":
      return detectInsulation(state, reading, limits, rule);
    case "residual-current":
    case "device-state":
    case "heartbeat":
      return detection(
        state,
        [aside(reading, `A ${reading.kind} is kept on record and decides no fault.`)],
        reading.key,
      );
  }
}

const BIT_WORDS = { "earth-fault-bit": "earth fault", "residual-trip": "residual-current trip" } as const;

function aside(reading: WatchReading, text: string): Decision {
  return { sign: null, change: "unchanged", at: reading.at, reason: grounds(text) };
}

function detectInsulation(
  state: DetectorState,
  reading: WatchReading,
  limits: ArrayLimits,
  rule: DriftRule,
): Detection {
  const ohms = Number(reading.value);
  const { date } = localTime(reading.at, limits.zone);
  const days = withCheck(state.days, date, reading.device, ohms);
  const checked = days === state.days ? state : { ...state, days };
  const threshold = limits.insulationThreshold;
  const before = levelOf(state, "insulation-low", reading)?.active ?? false;
  if (threshold === null) {
    const text = () =>
      `Insulation ${ohmsText({ ohms })}; no threshold is decided for this array, so it is not judged. Settle the duty of the array.`;
    const reason = groundsInWords(() => ({ text: text() }), { ohms });
    const kept = move(checked, "insulation-low", before, reading, reason);
    return finish(checked, reading, limits, rule, {
      ...kept,
      decisions: [{ sign: "insulation-low", change: "cannot-tell", at: reading.at, reason }],
    });
  }
  const returnOhms = threshold.value * limits.watch.insulationReturnRatio.value;
  const active = ohms < threshold.value || (before && ohms < returnOhms);
  const words = () => ({
    text: insulationWords(ohms, threshold.value, returnOhms, before),
    limits: [
      { name: "insulationThreshold", unit: "ohm", ...threshold },
      ...named(limits.watch, "insulationReturnRatio"),
    ],
  });
  const reason = groundsInWords(words, { ohms, thresholdOhms: threshold.value, returnOhms });
  return finish(checked, reading, limits, rule, move(checked, "insulation-low", active, reading, reason));
}

function insulationWords(ohms: number, thresholdOhms: number, returnOhms: number, before: boolean): string {
  const value = `Insulation ${ohmsText({ ohms })}`;
  if (ohms < thresholdOhms) return `${value} is below the threshold of ${ohmsText({ ohms: thresholdOhms })}.`;
  if (!before) return `${value} is not below the threshold of ${ohmsText({ ohms: thresholdOhms })}.`;
  const back = `${ohmsText({ ohms: returnOhms })}, at which a low insulation counts as back`;
  return ohms < returnOhms ? `${value} has not reached ${back}.` : `${value} has reached ${back}.`;
}

function levelOf(state: DetectorState, sign: ReadingSign, reading: WatchReading): Level | undefined {
  return state.levels.find(
    (level) => level.sign === sign && level.device === reading.device && level.source === reading.source,
  );
}

function isActive(levels: readonly Level[], sign: ReadingSign): boolean {
  return levels.some((level) => level.sign === sign && level.active);
}

interface Moved {
  readonly levels: readonly Level[];
  readonly decisions: readonly Decision[];
  /** The reading began a fault. */
  readonly began: boolean;
}

/** Moves the level of one device. Of two readings of one instant the one that reports a fault wins. */
function move(
  state: DetectorState,
  sign: ReadingSign,
  active: boolean,
  reading: WatchReading,
  reason: Grounds,
): Moved {
  const { at, device, source } = reading;
  const old = levelOf(state, sign, reading);
  const before = isActive(state.levels, sign);
  if (old !== undefined && (at < old.at || (at === old.at && !active))) {
    if (!active || before)
      return { levels: state.levels, decisions: [late(sign, old, at, reason)], began: false };
    const gone = grounds(`${SIGNS[sign].title}: a later reading of ${instantText(old.at)} shows it cleared.`);
    const decisions: Decision[] = [
      {
        sign,
        change: "set",
        at,
        reason: { ...inPlainWords(reason), text: `${reason.text} This reading came late.` },
      },
      { sign, change: "cleared", at: old.at, reason: gone },
    ];
    return { levels: state.levels, decisions, began: true };
  }
  const level: Level = { sign, device, source, active, at };
  const levels =
    old === undefined ? [...state.levels, level] : state.levels.map((one) => (one === old ? level : one));
  const after = isActive(levels, sign);
  const change = before === after ? "unchanged" : after ? "set" : "cleared";
  return { levels, decisions: [{ sign, change, at, reason }], began: change === "set" };
}

function late(sign: ReadingSign, old: Level, at: number, reason: Grounds): Decision {
  const text = () => `${reason.text} A later reading of ${instantText(old.at)} has already spoken.`;
  const words = () => ({ text: text(), limits: reason.limits });
  return { sign, change: "unchanged", at, reason: groundsInWords(words, reason.figures) };
}

/** Notes the morning on which a fault began, then lets the days and the morning's check speak. */
function finish(
  state: DetectorState,
  reading: WatchReading,
  limits: ArrayLimits,
  rule: DriftRule,
  moved: Moved,
): Detection {
  const local = localTime(reading.at, limits.zone);
  const inMorning = local.minuteOfDay < limits.watch.morningEndsMin.value;
  const faultMornings =
    moved.began && inMorning ? withFaultMorning(state.faultMornings, local.date) : state.faultMornings;
  const taken = withLevels(state, moved.levels, faultMornings);
  const judged = judgeDays(taken, limits, rule, reading.at);
  const resumed = judgeResumed(judged.state, limits, reading.at);
  const decisions = [...moved.decisions, ...judged.decisions, ...resumed.decisions];
  return detection(resumed.state, decisions, reading.key);
}

/** Written out: a copy by spreading costs several times as much, and every reading makes one. */
function withLevels(
  { site, array, days, daySigns, missedOn }: DetectorState,
  levels: DetectorState["levels"],
  faultMornings: DetectorState["faultMornings"],
): DetectorState {
  return { site, array, levels, days, faultMornings, daySigns, missedOn };
}
