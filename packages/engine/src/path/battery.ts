import type { AlarmLoop } from "../assess/site.ts";
import { figure, type Remark } from "./judgement.ts";

/** Ageing allowance: a battery is used to 80 % of its new capacity (BS 5839-1 trade summary, secondary). */
export const AGEING = 1.25;
/** Sounding time a standby battery must still give at its end (fire rule borrowed, memory). */
export const ALARM_HOURS = 0.5;
const DAY_HOURS = 24;
/** Factor on the alarm current that discharges the battery faster than its rating at 20 h holds for. */
const HIGH_RATE = 1.75;
const RATED_HOURS = 20;

/**
 * D of the capacity rule: 1 where the capacity spread over 20 h covers the alarm current, else 1.75.
 *
 * Source: BS 5839-1:2025 Annex E in a trade summary (secondary). Check: checks/battery-standby
 */
export function highRateFactor(capacityAh: number, alarmA: number): number {
  return capacityAh / RATED_HOURS >= alarmA ? 1 : HIGH_RATE;
}

/**
 * Battery capacity for a standby and an alarm time: C = 1.25 · (I_q · t_standby + D · I_a · t_alarm), D = 1 or 1.75.
 *
 * @param d  factor of the alarm part, as highRateFactor gives it
 * @returns [Ah]
 * Source: BS 5839-1:2025 Annex E in a trade summary (secondary). Check: checks/battery-standby
 */
export function batteryCapacityAh(
  quiescentA: number,
  standbyHours: number,
  alarm: { readonly currentA: number; readonly hours: number; readonly d?: number },
  ageing: number = AGEING,
): number {
  return ageing * (quiescentA * standbyHours + (alarm.d ?? 1) * alarm.currentA * alarm.hours);
}

/**
 * Hours the aged battery keeps the loop at rest and can then still sound for half an hour.
 *
 * The capacity rule solved for the time: t = (C / 1.25 − D · I_a · 0.5 h) / I_q, never below 0. Without a stated current at
 * rest: the load's own current. Null without battery or load; a stated current at rest of zero never runs down (null,
 * judged as no limit).
 *
 * Source: as batteryCapacityAh. Check: checks/battery-standby
 */
export function standbyHours(loop: AlarmLoop): number | null {
  const { battery, load } = loop;
  if (battery === undefined || load === undefined) return null;
  const quiescent = loop.quiescentCurrent ?? load.current;
  if (!(quiescent > 0)) return null;
  const alarmAh = highRateFactor(battery, load.current) * load.current * ALARM_HOURS;
  return Math.max(0, (battery / AGEING - alarmAh) / quiescent);
}

/** Whether the annunciator outlasts a loss of its supply. Borrowed from fire practice: no PV standard seen asks for it. */
export function judgeBattery(loop: AlarmLoop): readonly Remark[] {
  if (loop.battery === undefined) {
    const text =
      "No battery is on record, so the annunciator may be silent when its supply fails. Fit a battery, or record the one there is.";
    return [{ code: "PATH_BATTERY_NONE", text }];
  }
  const remarks: Remark[] = [];
  if (loop.quiescentCurrent === undefined) {
    const text =
      "The current that the loop draws at rest is not stated, so the battery is judged as if the load drew its own current all the time. Measure the current at rest and record it.";
    remarks.push({ code: "PATH_QUIESCENT_UNKNOWN", text });
  }
  const hours = standbyHours(loop);
  if (hours !== null && hours < DAY_HOURS) {
    const text = `An aged battery of ${figure(loop.battery, 2)} Ah keeps the loop for ${figure(hours)} h and then sounds for half an hour; a day is good practice, so that it still sounds at the morning check after a night without supply. Fit a larger one.`;
    remarks.push({ code: "PATH_STANDBY_SHORT", text, figures: { standbyHours: hours } });
  }
  return remarks;
}
