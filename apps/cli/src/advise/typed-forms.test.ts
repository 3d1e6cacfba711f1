import { ADVICE_QUESTIONS, type QuestionId } from "@earthbell/engine";
import { ADVICE_FORMAT, readAdvice } from "@earthbell/model";
import { describe, expect, it } from "vitest";
import { TYPED_FORMS } from "./typed-forms.ts";

function answer(id: QuestionId, typed: string): unknown {
  const fields = { format: ADVICE_FORMAT, [id]: TYPED_FORMS[id].field(typed) };
  const read = readAdvice(JSON.stringify(fields), "answers");
  return read.ok ? read.record[id] : read.faults.map(({ code }) => code);
}

const hours = (days: readonly number[], from: number, to: number) =>
  days.map((day) => ({ fromMinute: day * 1440 + from * 60, toMinute: day * 1440 + to * 60 }));
const WEEK = [0, 1, 2, 3, 4, 5, 6];

describe("typed forms", () => {
  it.each<[QuestionId, string, unknown]>([
    ["place", "AU-VIC", { country: "AU", region: "VIC" }],
    ["place", "nz", { country: "NZ" }],
    [
      "place",
      "AU-VIC Australia/Melbourne -37.1 143.9",
      {
        country: "AU",
        region: "VIC",
        timezone: "Australia/Melbourne",
        latitudeDeg: -37.1,
        longitudeDeg: 143.9,
      },
    ],
    ["place", "Australia", ["INPUT_TEXT_INVALID"]],
    ["installed", "2019-03-14", "2019-03-14"],
    ["strings", "14, 13", [14, 13]],
    ["strings", "2 x 14, 13", [14, 14, 13]],
    ["strings", "2×14", [14, 14]],
    ["module", "410 W, 49.5 V", { pmax: 410, voc: 49.5 }],
    [
      "module",
      "410 W, 49.5 V, -0.27 %/K, 10.9 A, 1.95 m2, thin-film",
      {
        pmax: 410,
        voc: 49.5,
        vocTemperatureCoefficient: { kind: "relative", perKelvin: -0.0027 },
        isc: 10.9,
        area: 1.95,
        technology: "thin-film",
      },
    ],
    ["lowestTemperature", "-3", -3],
    ["lowestTemperature", "-3 °C", -3],
    ["inverter", "10 kVA", { ratedPower: 10_000 }],
    ["inverter", "10 kVA, none", { ratedPower: 10_000, separation: "none" }],
    ["inverter", "10kVA simple", { ratedPower: 10_000, separation: "simple" }],
    ["earthing", "Floating", "floating"],
    ["people", "nobody", []],
    [
      "people",
      "owner Mon-Sun 06:00-21:00, 4 a day; jo",
      [{ id: "owner", role: "owner", reads: hours(WEEK, 6, 21), checksPerDay: 4 }, { id: "jo" }],
    ],
    ["present", "never", []],
    ["light", "6 a day, 4 m", { accessible: true, passesPerDay: 6, viewingDistance: 4 }],
    ["light", "0.5", { accessible: true, passesPerDay: 0.5 }],
    ["light", "locked", { accessible: false }],
    ["relay", "any-fault", "any-fault"],
  ])("%s: %j", (id, typed, expected) => {
    expect(answer(id, typed)).toEqual(expected);
  });

  it.each<[QuestionId, string]>([
    ["place", "AU-VIC Australia/Melbourne Europe/Berlin"],
    ["strings", "many"],
    ["strings", "2 x 0"],
    ["module", "410, 49.5"],
    ["module", "410 W"],
    ["lowestTemperature", "cold"],
    ["inverter", "10"],
    ["inverter", "10 kVA perhaps"],
    ["people", "owner Moo 06:00-21:00"],
    ["light", "often"],
    ["relay", "yes"],
  ])("refuse what %s cannot be: %j", (id, typed) => {
    const codes = answer(id, typed) as readonly string[];
    expect(codes.length).toBeGreaterThan(0);
    for (const code of codes) expect(code).toMatch(/^(?:INPUT|QUANTITY)_/u);
  });

  it("are there for every question, each with what to type", () => {
    expect(Object.keys(TYPED_FORMS).sort()).toEqual(ADVICE_QUESTIONS.map(({ id }) => id).sort());
    for (const { form } of Object.values(TYPED_FORMS)) expect(form).not.toBe("");
  });
});
