import { readAdvice } from "@earthbell/model";
import { describe, expect, it } from "vitest";
import { type AdviceForm, adviceText, BLANK_FORM, BLANK_PERSON } from "./form.ts";

const filled: AdviceForm = {
  ...BLANK_FORM,
  name: "Shearing shed",
  country: "au",
  region: "vic",
  timezone: "Australia/Melbourne",
  installed: "2026-12-09",
  strings: "12, 12",
  pmax: "410",
  voc: "37,4",
  coefficient: "-0.27",
  area: "1.95",
  lowest: "-4",
  rated: "10",
  separation: "none",
  earthing: "floating",
  mounting: "building",
  people: [{ ...BLANK_PERSON, id: "grazier", email: "grazier@example.org" }],
  present: "Mon-Fri 07:00-17:00",
  network: "owners-router",
  passes: "2",
  distance: "3",
  accessible: "yes",
  relay: "any-fault",
};

describe("the form of an installer's answers", () => {
  it("is read as answers without a fault when every field is filled", () => {
    const read = readAdvice(adviceText(filled), "form");
    if (!read.ok) throw new Error(JSON.stringify(read.faults));
    expect(read.record).toMatchObject({
      id: "shearing-shed",
      place: { country: "AU", region: "VIC" },
      strings: [12, 12],
      lowestTemperature: -4,
      inverter: { ratedPower: 10_000, separation: "none" },
      light: { accessible: true, passesPerDay: 2, viewingDistance: 3 },
      relay: "any-fault",
    });
    expect(read.record.module?.voc).toBeCloseTo(37.4, 10);
  });

  it("leaves out what is not answered instead of guessing it", () => {
    const read = readAdvice(adviceText(BLANK_FORM), "form");
    expect(read.ok && Object.keys(read.record).filter((field) => field !== "format")).toEqual([]);
  });

  it("hands a field that is no number to the reader of answers, which names it", () => {
    const read = readAdvice(adviceText({ ...filled, rated: "ten" }), "form");
    expect(!read.ok && read.faults.map(({ field }) => field)).toEqual(["inverter.ratedPower"]);
  });
});
