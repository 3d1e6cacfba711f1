import type { Step } from "@earthbell/engine";

/** A step as an instruction to the person who does it. */
export function stepWords(step: Step): string {
  const { action, string, at, group, readings } = step;
  const count = readings.length === 1 ? "one reading" : `${readings.length} readings`;
  switch (action) {
    case "read":
      return `Take ${count} on ${string}`;
    case "read-with-shunt":
      return readings[0]?.circuit === undefined
        ? `Take ${count} on ${string} with a known resistor across the meter`
        : `Put the clamp around ${readings.length === 1 ? "one string" : `${readings.length} strings`} of ${string}`;
    case "tester":
      return `Test the insulation of ${string}`;
    case "isolate-string":
      return `Isolate ${(group ?? [string]).join(", ")} at both poles, then take ${count}`;
    case "open-connector":
      return `Open ${connector(string, at)}, then take ${count}`;
    case "confirm":
      return `Confirm at ${connector(string, at)}, then take ${count}`;
    case "wait-dry":
      return "Wait until the array is dry";
  }
}

function connector(string: string, at: number | undefined): string {
  if (at === undefined) return `a connector of ${string}`;
  return at === 0
    ? `the end connector at − of ${string}`
    : `the connector of ${string} after module ${at}, counted from −`;
}

/** Leaving more than this of the places in question, a step tells hardly anything of where it is. */
const HARDLY = 0.95;

/** What a step promises to leave of the places in question, and its minutes. Each bit halves them [what a bit is]. */
export function worthWords({ bits, minutes }: Step): string {
  const time = `about ${Math.round(minutes)} min`;
  const left = 2 ** -bits;
  if (left > HARDLY) return `little news of the place; ${time}`;
  const share = left > 0.1 ? `${Math.round(10 * left)} in 10` : `1 in ${Math.round(1 / left)}`;
  return `${share} of the places left, on average; ${time}`;
}
