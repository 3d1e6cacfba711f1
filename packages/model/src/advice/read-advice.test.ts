import { describe, expect, test } from "vitest";
import { readAdvice } from "./read-advice.ts";

const ADVICE = `format: earthbell.advice/1
site: {id: shearing-shed, name: Shearing shed}
place: {country: AU, region: VIC, timezone: Australia/Melbourne, latitude: -37, longitude: 144}
installed: 2019-03-14
strings: [14, 13]
module: {pmax: 410 W, voc: 49.5 V, vocTemperatureCoefficient: -0.27 %/K, area: 1.95 m2}
lowestTemperature: -3 °C
inverter: {ratedPower: 10 kVA, separation: none}
earthing: floating
mounting: building
people:
  - {id: owner, role: owner, reads: "Mon-Sun 06:00-21:00", checksPerDay: 4}
present: "Mon-Sun 05:00-10:00"
network: owners-router
light: {passesPerDay: 6, viewingDistance: 4 m, accessible: true}
relay: any-fault
`;

describe("readAdvice", () => {
  test("reads every answer into base units", () => {
    const result = readAdvice(ADVICE, "answers.yaml");
    if (!result.ok) throw new Error(JSON.stringify(result.faults));
    expect(result.record).toMatchObject({
      id: "shearing-shed",
      place: { country: "AU", region: "VIC", latitudeDeg: -37 },
      strings: [14, 13],
      module: { pmax: 410, vocTemperatureCoefficient: { kind: "relative", perKelvin: -0.0027 } },
      lowestTemperature: -3,
      inverter: { ratedPower: 10_000, separation: "none" },
      present: Array.from({ length: 7 }, (_, day) => ({
        fromMinute: day * 1440 + 300,
        toMinute: day * 1440 + 600,
      })),
      relay: "any-fault",
    });
  });

  test("takes a file without any answer: all is unknown", () => {
    expect(readAdvice("format: earthbell.advice/1\n", "answers.yaml")).toMatchObject({
      ok: true,
      record: {},
    });
  });

  test.each([
    ["an unknown field", "earthing: floating", "earthling: floating", "earthling", "INPUT_FIELD_UNKNOWN"],
    [
      "a missing unit",
      "ratedPower: 10 kVA",
      "ratedPower: 10",
      "inverter.ratedPower",
      "QUANTITY_UNIT_MISSING",
    ],
    ["a day of no calendar", "2019-03-14", "2019-02-30", "installed", "INPUT_DATE_INVALID"],
    ["a string without modules", "[14, 13]", "[14, 0]", "strings[1]", "INPUT_NUMBER_OUT_OF_RANGE"],
    ["an unknown network", "owners-router", "pigeon", "network", "INPUT_CHOICE_UNKNOWN"],
    ["hours of no week", "Mon-Sun 05:00-10:00", "Moo 05:00-10:00", "present", "INPUT_HOURS_INVALID"],
  ])("points at %s", (_, sound, broken, field, code) => {
    expect(ADVICE).toContain(sound);
    const result = readAdvice(ADVICE.replace(sound, broken), "answers.yaml");
    expect(result.ok ? [] : result.faults).toMatchObject([{ field, code, file: "answers.yaml" }]);
  });

  test("names every fault at once, and a person named twice", () => {
    const twice = ADVICE.replace("present:", "  - {id: owner}\npresent:").replace("floating", "afloat");
    const result = readAdvice(twice, "answers.yaml");
    expect(result.ok ? [] : result.faults.map(({ field }) => field)).toEqual(["earthing", "people[1].id"]);
  });
});
