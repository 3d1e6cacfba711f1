import { SIGNS, type SignKind, type Subject } from "../sign.ts";

/** Why an alarm is kept quiet: always with a name, a reason and an end. */
export interface Quiet {
  /** The person, or the rule that suppresses. */
  readonly by: string;
  readonly reason: string;
  readonly fromAt: number;
  /** Quiet up to, and not at, this instant. */
  readonly untilAt: number;
}

export interface NamedStep {
  readonly by: string;
  readonly at: number;
}

/**
 * One kind of sign of one array or path, for as long as that exists. Plain JSON.
 *
 * Condition, acknowledgement and latch are what the lifecycle's states are made of; shelf, suppression and maintenance lie
 * over them and take nothing away, so that the alarm is as it would be when they end.
 */
export interface Alarm {
  readonly id: string;
  readonly site: string;
  readonly subject: Subject;
  readonly sign: SignKind;
  readonly condition: "active" | "clear";
  /** Counts how often the alarm has come; 0 is never. */
  readonly occurrence: number;
  /** Start of the latest occurrence. */
  readonly activeAt: number | null;
  /** End of the latest occurrence; null while it lasts. */
  readonly clearedAt: number | null;
  /** Of the latest occurrence. */
  readonly acknowledged: NamedStep | null;
  /** Came, and nobody has signed a cause since. */
  readonly latched: boolean;
  readonly chatter: Chatter;
  /** Instant at which the latest occurrence was noted as stale. */
  readonly staleAt: number | null;
  readonly shelf: Quiet | null;
  readonly suppression: Quiet | null;
  readonly maintenance: Quiet | null;
}

export interface Chatter {
  /** The latest changes from active to clear that are recent enough to count. */
  readonly clearsAt: readonly number[];
  /** Start of the chatter; null where the alarm does not chatter. */
  readonly sinceAt: number | null;
  /** While chattering: what the detector last said, and when. */
  readonly lastHeard: { readonly condition: "active" | "clear"; readonly at: number } | null;
}

/**
 * States of the alarm lifecycle, by the terms of IEC 62682 and ISA-18.2 (memory; shelved, suppressed by design, out of
 * service and the purpose of latching: published, OPC UA part 9, 4.8).
 */
export type AlarmState =
  | "normal"
  | "unacknowledged"
  | "acknowledged"
  | "returned-unacknowledged"
  | "latched-unacknowledged"
  | "latched-acknowledged"
  | "shelved"
  | "suppressed-by-design"
  | "out-of-service";

export const NO_CHATTER: Chatter = { clearsAt: [], sinceAt: null, lastHeard: null };

export function newAlarm(id: string, site: string, subject: Subject, sign: SignKind): Alarm {
  return {
    id,
    site,
    subject,
    sign,
    condition: "clear",
    occurrence: 0,
    activeAt: null,
    clearedAt: null,
    acknowledged: null,
    latched: false,
    chatter: NO_CHATTER,
    staleAt: null,
    shelf: null,
    suppression: null,
    maintenance: null,
  };
}

/** What keeps the alarm quiet at an instant; the strongest where there are several. An end that has passed holds nothing. */
export function quietOf(
  alarm: Alarm,
  at: number,
): { readonly kind: "shelved" | "suppressed-by-design" | "out-of-service"; readonly quiet: Quiet } | null {
  const holds = (quiet: Quiet | null): quiet is Quiet => quiet !== null && at < quiet.untilAt;
  if (holds(alarm.maintenance)) return { kind: "out-of-service", quiet: alarm.maintenance };
  if (holds(alarm.suppression)) return { kind: "suppressed-by-design", quiet: alarm.suppression };
  if (holds(alarm.shelf)) return { kind: "shelved", quiet: alarm.shelf };
  return null;
}

/** The state without shelf, suppression and maintenance. */
export function conditionState(
  alarm: Alarm,
): Exclude<AlarmState, "shelved" | "suppressed-by-design" | "out-of-service"> {
  const answered = alarm.acknowledged !== null;
  if (alarm.condition === "active") return answered ? "acknowledged" : "unacknowledged";
  if (alarm.latched) return answered ? "latched-acknowledged" : "latched-unacknowledged";
  return alarm.occurrence === 0 || answered ? "normal" : "returned-unacknowledged";
}

/** The state of an alarm at an instant. */
export function alarmState(alarm: Alarm, at: number): AlarmState {
  return quietOf(alarm, at)?.kind ?? conditionState(alarm);
}

export function latches(alarm: Alarm): boolean {
  return SIGNS[alarm.sign].latches;
}
