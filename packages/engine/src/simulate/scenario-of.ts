import type { Visit } from "../finder/visit.ts";
import { MODULE_VOLTS, WORLD } from "./kinds.ts";
import { linearModule, type Scenario, type ScenarioFault } from "./scenario.ts";

/** A sound module in the dry, well above what the finder has to tell from damage (design choice). */
const MODULE_LEAK_OHMS = 500e6;

/** An invented array with the wiring and the voltmeter of a visit and with this damage, so that a stand-in meter can answer for it. */
export function scenarioOf(
  visit: Pick<Visit, "strings" | "circuits" | "instruments">,
  faults: readonly ScenarioFault[],
): Scenario {
  const strings = visit.strings.map(({ id, modules, substrings, moduleVoc }) => ({
    id,
    modules,
    ...(substrings === undefined ? {} : { substrings }),
    module: linearModule(moduleVoc ?? MODULE_VOLTS),
    moduleLeakOhms: MODULE_LEAK_OHMS,
  }));
  const circuits = visit.circuits.map(({ id, strings: joined }) => ({ id, strings: joined }));
  const voltmeter = visit.instruments.find((one) => one.kind === "voltmeter");
  const inputOhms = voltmeter?.inputResistance ?? WORLD.meter.inputOhms;
  return { ...WORLD, meter: { ...WORLD.meter, inputOhms }, strings, circuits, faults };
}
