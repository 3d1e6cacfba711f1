import type { AlarmLoop } from "../assess/site.ts";
import type { Remark } from "./judgement.ts";

/** What a dead inverter, a cut wire or a flat battery does: raise the alarm, show as a fault of the loop, or hide it. */
export function judgeSense(loop: AlarmLoop): readonly Remark[] {
  if (loop.sense === "de-energise-to-alarm") {
    const text =
      "A cut wire and a dead inverter raise the alarm. Prove it by opening the loop during a drill; the sounder needs its own supply to sound then.";
    return [{ code: "PATH_SENSE_FAIL_SAFE", text }];
  }
  if (loop.sense === undefined) {
    const text =
      "It is not stated what a cut wire does, so it is judged as hiding the alarm. Open the loop during a drill, see what happens, and record it.";
    return [{ code: "PATH_SENSE_UNKNOWN", text }];
  }
  if (loop.supervised === true) {
    const text =
      "Supervision shows a cut wire, but a dead inverter still cannot raise the alarm. Use a contact that opens on fault and on loss of power, if the inverter has one.";
    return [{ code: "PATH_SENSE_DEAD_INVERTER", text }];
  }
  const text =
    "A cut wire, a dead inverter or a flat battery hides the alarm and nothing shows it. Let loss of current sound it, or supervise the loop.";
  return [{ code: "PATH_SENSE_HIDES", text }];
}
