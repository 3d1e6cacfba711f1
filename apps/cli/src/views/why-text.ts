import type { Explanation } from "@earthbell/engine";
import type { Page } from "../terminal/page.ts";
import { figure, hardSpace } from "../terminal/quantity.ts";
import { bulletSection } from "../terminal/section.ts";
import { percent } from "../terminal/strip.ts";

/** Less information than this about the place is not worth a line. */
const leastBits = 0.05;

/** Why a finding says what it says: the readings that carried it, the rule of proportion beside it, what stays open. */
export function whyText({ carried, handRule, healthyShare, notExcluded }: Explanation, page: Page): string[] {
  const carriers = carried
    .filter(({ bits }) => bits >= leastBits)
    .map(
      ({ reading, what, bits }) =>
        `reading ${reading + 1}, ${what}: ${figure(bits, 2)}${hardSpace}bits would be lost without it`,
    );
  const share =
    healthyShare === null
      ? []
      : [`Healthy leakage is ${percent(healthyShare)} of the whole leak; the fault is the rest.`];
  const rules = handRule.map(({ string, handAt, why }) => {
    const place =
      handAt === null ? "names no place" : `says ${handAt.toFixed(2)} modules from the negative end`;
    return `${string}: the rule ${place}. Why it differs or not: ${why}`;
  });
  return [
    ...bulletSection("Why", [...carriers, ...share], page),
    ...bulletSection("The rule of proportion, for comparison", rules, page),
    ...bulletSection("Not excluded", notExcluded, page),
  ];
}
