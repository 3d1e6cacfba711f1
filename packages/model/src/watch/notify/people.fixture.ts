import { type Alarm, newAlarm } from "../alarm/alarm.ts";
import type { AlarmEvent } from "../alarm/alarm-event.ts";
import { transition } from "../alarm/transition.ts";
import type { BeaconOfPath } from "../drill/drill.ts";
import type { SignKind } from "../sign.ts";
import type { Delivery } from "./delivery.ts";
import type { TellPath, TellPerson } from "./recipients.ts";
import type { TellDecision } from "./tell-decision.ts";

/** Monday, 1 June 2026, 05:12 UTC: 07:12 in Berlin. */
export const T = Date.UTC(2026, 5, 1, 5, 12);

/** The owner, who reads at any hour. */
export const ann: TellPerson = { id: "ann", zone: "Europe/Berlin" };
/** The service engineer, Monday to Friday 07:00 to 17:00. */
export const ben: TellPerson = {
  id: "ben",
  zone: "Europe/Berlin",
  reads: [0, 1, 2, 3, 4].map((day) => ({ fromMinute: day * 1440 + 420, toMinute: day * 1440 + 1020 })),
};
/** On call. */
export const cleo: TellPerson = { id: "cleo", zone: "Europe/Berlin" };

/** Ann and Ben at once, Cleo if nobody has answered for two hours. */
export const P1: TellPath = {
  id: "P1",
  site: "tarn",
  to: ["ann", "ben"],
  repeatEveryMin: 60,
  until: ["acknowledged", "cleared"],
  ladder: [{ afterMin: 120, to: ["cleo"] }],
};

/** A lamp in which P1 ends; it cannot say that it burns for a drill. */
export const LAMP: BeaconOfPath = { id: "lamp", saysDrill: false };

export function alarmOf(sign: SignKind = "insulation-low"): Alarm {
  return newAlarm(`A1 ${sign}`, "tarn", { kind: "array", array: "A1" }, sign);
}

export function moved(alarm: Alarm, event: AlarmEvent, at: number): Alarm {
  const step = transition(alarm, event, at);
  if (!step.ok) throw new Error(step.refusal.code);
  return step.alarm;
}

/** An alarm that was set at T. */
export function active(sign: SignKind = "insulation-low"): Alarm {
  return moved(alarmOf(sign), { type: "set" }, T);
}

/** The delivery that the desk records once the message of a decision is handed over. */
export function recorded(decision: TellDecision, at: number): Delivery {
  if (!decision.tell) throw new Error(`nothing was told: ${decision.reason.text}`);
  const { matter, path, person, kind, sequence, told } = decision.message;
  return { matter, path, person, kind, sequence, told, at };
}

/** The kind that is told, or why nothing is. */
export function outcome(decision: TellDecision): string {
  return decision.tell ? decision.kind : decision.hold.because;
}
