import type { CommissioningForm } from "./commissioning-form.ts";

const WORDS: Readonly<Record<string, string>> = {
  on: "Day of the work",
  "by.name": "Done by",
  conditions: "Conditions",
  instruments: "Instruments",
  results: "A first result",
  time: "time of day",
  array: "dry or wet",
  air: "air",
  module: "back of a module",
  irradiance: "irradiance",
  what: "instrument",
  number: "its own number",
  calibrated: "calibrated on",
  id: "letter",
  reading: "reading",
  passed: "is it so",
  with: "instrument",
  limit: "limit of this job",
  limitFrom: "where that limit comes from",
  note: "remark",
  raised: "alarm raised at",
  acknowledged: "acknowledged at",
  acknowledgedBy: "acknowledged by",
  by: "ticked by",
  because: "why it was not done",
  found: "found or set",
  device: "device",
  firmware: "firmware found",
  proved: "is the path proved",
  name: "name",
};

/** A field in a person's words: `conditions[0].time` is the time of day of the conditions. */
export function fieldName(at: string, { results, settings }: CommissioningForm): string {
  const whole = WORDS[at];
  if (whole !== undefined) return whole;
  const dot = at.lastIndexOf(".");
  const [place, last] = [at.slice(0, dot), at.slice(dot + 1)];
  const words = WORDS[last] ?? last;
  const step = /^settings\[(\d+)\]\.steps\[(\d+)\]$/u.exec(place);
  if (step !== null)
    return `Sheet ${settings[Number(step[1])]?.sheet ?? ""}, step ${Number(step[2]) + 1}, ${words}`;
  const [kind = "", which = ""] = place.split(/[:[\]]/u);
  const number = Number(which) + 1;
  switch (kind) {
    case "result": {
      const result = results.find(({ key }) => key === which);
      return result === undefined ? words : `${result.step.replaceAll("-", " ")}, ${words}`;
    }
    case "drill":
      return `Drill of path ${which}, ${words}`;
    case "signature":
      return `Sign-off, ${words}`;
    case "settings":
      return `Sheet ${settings[Number(which)]?.sheet ?? ""}, ${words}`;
    case "conditions":
      return `Conditions ${number}, ${words}`;
    case "instruments":
      return `Instrument ${number}, ${words}`;
    default:
      return `${place} ${words}`.trim();
  }
}
