import type { Effect } from "../effect.ts";
import type { Refused } from "../refusal.ts";
import type { Alarm } from "./alarm.ts";
import type { AlarmCode } from "./alarm-codes.ts";

export interface QuietRequest {
  readonly by: string;
  readonly reason: string;
  readonly untilAt: number;
}

/** What can happen to an alarm. */
export type AlarmEvent =
  /** The detector says that it began. */
  | { readonly type: "set" }
  /** The detector says that it ended. */
  | { readonly type: "cleared" }
  | { readonly type: "acknowledge"; readonly by: string }
  | { readonly type: "sign-cause"; readonly by: string; readonly cause: string }
  /** nextSunriseAt: of the site; null where it is not known or does not come within two days. */
  | ({ readonly type: "shelve"; readonly nextSunriseAt: number | null } & QuietRequest)
  | { readonly type: "unshelve"; readonly by: string }
  /** by: the rule. */
  | ({ readonly type: "suppress" } & QuietRequest)
  | { readonly type: "unsuppress"; readonly by: string }
  | ({ readonly type: "begin-maintenance" } & QuietRequest)
  | { readonly type: "end-maintenance"; readonly by: string }
  /** Nothing but the passing of time. */
  | { readonly type: "look" };

export interface Step {
  readonly ok: true;
  readonly alarm: Alarm;
  readonly effects: readonly Effect[];
  /** What happened and why, in words. */
  readonly reason: string;
}

export type AlarmStep = Step | Refused<AlarmCode>;

export function step(alarm: Alarm, reason: string, ...effects: readonly Effect[]): Step {
  return { ok: true, alarm, effects, reason };
}

export function note(at: number, by: string | null, text: string): Effect {
  return { effect: "note", at, by, text };
}

export const TELL: Effect = { effect: "tell" };

export function lookAgain(at: number): Effect {
  return { effect: "look", at };
}
