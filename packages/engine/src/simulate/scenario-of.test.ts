import { describe, expect, it } from "vitest";
import { locate } from "../finder/index.ts";
import type { Ohms } from "../quantity/index.ts";
import { firstRequests } from "./first-requests.ts";
import { measure } from "./measure.ts";
import { seededRandom } from "./random.ts";
import { scenarioOf } from "./scenario-of.ts";
import { drawTruth } from "./truth.ts";
import { visitOf } from "./visit-of.ts";

const strings = [
  { id: "S1", modules: 13, substrings: 3 },
  { id: "S2", modules: 13, substrings: 3 },
];
const circuits = [{ id: "C1", strings: ["S1", "S2"] }];
const instruments = [{ name: "meter", kind: "voltmeter", inputResistance: 1e6 as Ohms }] as const;
const hidden = { string: "S2", at: 5, ohms: 9000 };

describe("an invented array with the wiring of a visit", () => {
  it("is wired as the visit says", () => {
    const made = visitOf(scenarioOf({ strings, circuits, instruments }, [hidden]), []);
    expect(made.strings.map(({ id, modules, substrings }) => ({ id, modules, substrings }))).toEqual(strings);
    expect(made.circuits).toEqual(circuits);
  });

  it("is read with the voltmeter of the visit", () => {
    const { meter } = scenarioOf({ strings, circuits, instruments }, [hidden]);
    expect(meter.inputOhms).toBe(instruments[0].inputResistance);
  });

  it("hides the damage where it was put: readings of its string alone lead there", () => {
    const scenario = scenarioOf({ strings: [strings[1]!], circuits: [], instruments }, [hidden]);
    const random = seededRandom(5);
    const truth = drawTruth(scenario, random);
    const readings = firstRequests("S2").map((request) => measure(truth, request, random));
    expect(locate(visitOf(scenario, readings)).places[0]).toMatchObject({ string: "S2", at: 5 });
  });
});
