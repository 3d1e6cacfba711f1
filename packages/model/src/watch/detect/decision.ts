import { type Grounds, inPlainWords } from "../grounds.ts";
import type { Sign } from "../sign.ts";
import type { ArraySign, DetectorState } from "./detector-state.ts";

/** What a detector made of a reading or of the hour. */
export interface Decision {
  readonly sign: ArraySign | null;
  readonly change: "set" | "cleared" | "unchanged" | "cannot-tell";
  readonly at: number;
  readonly reason: Grounds;
}

export interface Detection {
  readonly state: DetectorState;
  readonly decisions: readonly Decision[];
  /** The decisions that changed something, to feed the alarms with. */
  readonly signs: readonly Sign[];
}

/** @param cause  key of the reading, or the name of the hour, that led to the decisions */
export function detection(state: DetectorState, decisions: readonly Decision[], cause: string): Detection {
  const signs: Sign[] = [];
  for (const { sign, change, at, reason } of decisions) {
    if (sign === null || (change !== "set" && change !== "cleared")) continue;
    const key = JSON.stringify([state.site, state.array, cause, sign, change]);
    const subject = { kind: "array", array: state.array } as const;
    // A sign is kept and stored: its grounds are in plain words from here on.
    signs.push({ site: state.site, subject, sign, change, at, key, reason: inPlainWords(reason) });
  }
  return { state, decisions, signs };
}
