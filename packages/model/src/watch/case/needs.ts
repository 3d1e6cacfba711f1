import { instantText, ohmsText } from "../grounds.ts";
import type { Case } from "./case.ts";

/** Something without which a case cannot close. */
export interface Need {
  readonly need: "fault-gone" | "cause-signed" | "insulation-measured" | "owner-told";
  readonly met: boolean;
  /** What is there, or what is missing and how to mend it. */
  readonly text: string;
}

/** A case without what was done to it when: that has no part in what it lacks. */
type Told = Omit<Case, "timeline">;

function faultGone({ presentAlarms }: Told): Need {
  const met = presentAlarms.length === 0;
  const text = met
    ? "No alarm says that the fault is there."
    : "The fault is still there. Find and repair it.";
  return { need: "fault-gone", met, text };
}

function causeSigned({ cause, latchedAlarms }: Told): Need {
  const need = "cause-signed";
  if (cause === null) return { need, met: false, text: "No cause is signed. Sign what was found." };
  if (latchedAlarms.length > 0) {
    const text = `An alarm has come in since ${cause.by} signed a cause. Find the cause of that and sign it.`;
    return { need, met: false, text };
  }
  return { need, met: true, text: `Cause signed by ${cause.by}: ${cause.cause}` };
}

function insulationMeasured({ measured, cause, lastBeganAt }: Told): Need {
  const need = "insulation-measured";
  const repairedAt = cause?.repairedAt ?? lastBeganAt;
  if (measured === null || measured.at <= lastBeganAt || measured.at < repairedAt) {
    const since = instantText(Math.max(lastBeganAt, repairedAt));
    const text = `Insulation has not been measured since ${since}. Measure it after the repair, under the cautions of the test.`;
    return { need, met: false, text };
  }
  const { ohms, required } = measured;
  const figures = `${ohmsText({ ohms })} measured by ${measured.by}, ${ohmsText({ ohms: required.value })} required (${required.source}, ${required.tag})`;
  if (ohms < required.value)
    return { need, met: false, text: `${figures}: too low. The fault, or another one, is still there.` };
  return { need, met: true, text: `${figures}.` };
}

function ownerToldOfIt({ ownerTold, cause }: Told): Need {
  const need = "owner-told";
  if (ownerTold === null || (cause !== null && ownerTold.at < cause.at)) {
    const text = "The owner has not been told of the signed cause. Tell the owner in writing.";
    return { need, met: false, text };
  }
  return { need, met: true, text: `Owner told by ${ownerTold.by} at ${instantText(ownerTold.at)}.` };
}

/** Everything that a case needs before it can close, met or not. */
export function needsToClose(one: Told): readonly Need[] {
  return [faultGone(one), causeSigned(one), insulationMeasured(one), ownerToldOfIt(one)];
}
