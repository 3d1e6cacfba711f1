import type { Sourced } from "@earthbell/engine";
import { instantText, isInstant, ohmsText } from "../grounds.ts";
import { given, refused, type Refused } from "../refusal.ts";
import { type Case, withEntry } from "./case.ts";
import type { CaseCode } from "./case-codes.ts";
import { needsToClose } from "./needs.ts";

/** What a person can do to a case. */
export type CaseEvent =
  | {
      readonly type: "sign-cause";
      readonly by: string;
      readonly cause: string;
      readonly repairedAt: number | null;
    }
  | {
      readonly type: "measure-insulation";
      readonly by: string;
      readonly ohms: number;
      readonly required: Sourced<number>;
    }
  | { readonly type: "tell-owner"; readonly by: string; readonly document: string | null }
  | { readonly type: "remark"; readonly by: string; readonly text: string }
  | { readonly type: "close"; readonly by: string };

/** What a step on a case asks for besides storing the case. */
export type CaseEffect =
  /** Sign the cause on each of these alarms that is latched. */
  | {
      readonly effect: "sign-alarms";
      readonly alarms: readonly string[];
      readonly by: string;
      readonly cause: string;
    }
  /** `forgetMornings` for the array: what came before the signature is explained. */
  | { readonly effect: "forget-mornings"; readonly site: string; readonly array: string };

export type CaseStep =
  | {
      readonly ok: true;
      readonly case: Case;
      readonly effects: readonly CaseEffect[];
      readonly reason: string;
    }
  | Refused<CaseCode>;

interface Named {
  readonly by: string;
  readonly at: number;
}

function done(one: Case, { by, at }: Named, text: string, effects: readonly CaseEffect[] = []): CaseStep {
  return { ok: true, case: withEntry(one, at, by, text), effects, reason: text };
}

function signCause(one: Case, event: Extract<CaseEvent, { type: "sign-cause" }>, named: Named): CaseStep {
  const cause = given(event.cause);
  if (cause === null) return refused("CASE_TEXT_MISSING", "Write what was found to be the cause.");
  if (one.presentAlarms.length > 0)
    return refused("CASE_SIGN_WHILE_ACTIVE", "The fault is still there. See its alarms clear, then sign.");
  const { repairedAt } = event;
  if (
    repairedAt !== null &&
    !(isInstant(repairedAt) && one.lastBeganAt <= repairedAt && repairedAt <= named.at)
  )
    return refused(
      "CASE_REPAIR_INVALID",
      `Give an instant of the repair from ${instantText(one.lastBeganAt)}, when the fault last began, to ${instantText(named.at)}.`,
    );
  const effects: readonly CaseEffect[] = [
    { effect: "sign-alarms", alarms: one.alarms, by: named.by, cause },
    { effect: "forget-mornings", site: one.site, array: one.array },
  ];
  const repaired = repairedAt === null ? "nothing repaired" : `repaired ${instantText(repairedAt)}`;
  const text = `Cause signed by ${named.by}, ${repaired}: ${cause}`;
  return done({ ...one, latchedAlarms: [], cause: { ...named, cause, repairedAt } }, named, text, effects);
}

function measureInsulation(
  one: Case,
  { ohms, required }: Extract<CaseEvent, { type: "measure-insulation" }>,
  named: Named,
): CaseStep {
  if (!isOhms(ohms) || !isOhms(required.value))
    return refused("CASE_OHMS_INVALID", "Give measured and required insulation in ohms, 0 or more.");
  const text = `Insulation measured by ${named.by}: ${ohmsText({ ohms })}, ${ohmsText({ ohms: required.value })} required.`;
  return done({ ...one, measured: { ...named, ohms, required } }, named, text);
}

function isOhms(value: number): boolean {
  return Number.isFinite(value) && value >= 0;
}

function close(one: Case, named: Named): CaseStep {
  const unmet = needsToClose(one).filter(({ met }) => !met);
  if (unmet.length > 0) return refused("CASE_NEEDS_UNMET", unmet.map(({ text }) => text).join(" "));
  return done({ ...one, closed: named }, named, `Closed by ${named.by}.`);
}

/**
 * One step of a person on a case.
 *
 * @returns the new case with effects to carry out, or a refusal by code (`CASE_…`) and nothing changed; never throws
 */
export function caseStep(one: Case, event: CaseEvent, at: number): CaseStep {
  if (!isInstant(at))
    return refused("CASE_INSTANT_INVALID", "Give the instant of the step in milliseconds UTC.");
  const by = given(event.by);
  if (by === null)
    return refused("CASE_NAME_MISSING", "Give the name of the person who answers for this step.");
  const named = { by, at };
  if (one.closed !== null && event.type !== "remark")
    return refused(
      "CASE_STEP_AFTER_CLOSE",
      `Case ${one.id} was closed by ${one.closed.by}. Only remarks can be added.`,
    );
  switch (event.type) {
    case "sign-cause":
      return signCause(one, event, named);
    case "measure-insulation":
      return measureInsulation(one, event, named);
    case "tell-owner": {
      const { document } = event;
      const text = `Owner told by ${by}${document === null ? "" : `, ${document}`}.`;
      return done({ ...one, ownerTold: { ...named, document } }, named, text);
    }
    case "remark": {
      const text = given(event.text);
      if (text === null) return refused("CASE_TEXT_MISSING", "Write the remark.");
      return done(one, named, text);
    }
    case "close":
      return close(one, named);
  }
}
