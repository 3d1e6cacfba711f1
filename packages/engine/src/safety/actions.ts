import type { Step } from "../finder/finding.ts";

/**
 * What somebody is about to do: a step of the finder, or one of
 * arrive          coming to a site whose alarm has operated, before anything is touched
 * insulation-test the routine insulation test of commissioning
 * prove-alarm     connecting a test resistor to see the alarm operate
 * restore         closing connectors and switches again and putting the array back to work
 */
export type SafetyAction = Step["action"] | "arrive" | "insulation-test" | "prove-alarm" | "restore";
