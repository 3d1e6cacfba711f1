import { AGEING, ALARM_HOURS, batteryCapacityAh, highRateFactor } from "../path/battery.ts";

const STANDBY_HOURS = 24;

export interface BatteryNeed {
  readonly quiescentA: number;
  readonly alarmA: number;
  readonly standbyHours?: number;
  readonly alarmHours?: number;
}

/**
 * Battery capacity needed: C = 1.25 · (I_q · t + D · I_a · t_alarm), with D = 1 where C / 20 h covers the alarm current,
 * else 1.75.
 *
 * @returns [Ah]
 * Source: BS 5839-1:2025 Annex E in a trade summary (secondary), a fire rule borrowed. Check: checks/battery-standby
 */
export function batteryNeeded(need: BatteryNeed): number {
  const standby = need.standbyHours ?? STANDBY_HOURS;
  const alarm = { currentA: need.alarmA, hours: need.alarmHours ?? ALARM_HOURS };
  const gentle = batteryCapacityAh(need.quiescentA, standby, alarm, AGEING);
  return batteryCapacityAh(
    need.quiescentA,
    standby,
    { ...alarm, d: highRateFactor(gentle, need.alarmA) },
    AGEING,
  );
}
