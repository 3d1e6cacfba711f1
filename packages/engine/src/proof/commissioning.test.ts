import { describe, expect, it } from "vitest";
import type { Site } from "../assess/site.ts";
import { cautionsFor } from "../safety/index.ts";
import { proofPlan } from "./commissioning.ts";
import type { ProofStep } from "./proof-step.ts";

const base = {
  id: "loom",
  place: { country: "AU", region: "VIC" },
  lowestTemperature: 0,
  modules: [
    {
      id: "M",
      technology: "crystalline-silicon",
      pmax: 260,
      voc: 40,
      vocTemperatureCoefficient: { kind: "relative", perKelvin: -0.003 },
    },
  ],
  inverters: [
    {
      id: "I",
      ratedPower: 5000,
      separation: "none",
      insulationCheck: { threshold: 30_000, at: ["start"] },
      residualMonitor: true,
    },
  ],
  arrays: [
    {
      id: "A1",
      inverter: "I",
      module: "M",
      installed: "2016-05-01",
      earthing: "floating",
      mounting: "building",
      strings: [{ id: "S1", modules: 10 }],
    },
  ],
  people: [
    { id: "owner", address: { email: "o@example.net" }, until: "2020-01-01" },
    { id: "desk", address: { email: "d@example.net" } },
    { id: "mute" },
  ],
  paths: [{ id: "P1", arrays: ["A1"], signal: "message", to: ["owner", "desk", "mute"], repeatEvery: 60 }],
  proofs: [],
};

function steps(array: object = {}, inverter: object = {}): readonly ProofStep[] {
  const site = {
    ...base,
    inverters: [{ ...base.inverters[0], ...inverter }],
    arrays: [{ ...base.arrays[0], ...array }],
  } as unknown as Site;
  return proofPlan(site, { onDate: "2026-06-01" }).proofs[0]!.steps;
}
const step = (all: readonly ProofStep[], id: string): ProofStep => all.find((one) => one.id === id)!;

describe("proofPlan", () => {
  it("goes from isolation to restoring, the insulation test before the test resistor", () => {
    expect(steps().map(({ id }) => id)).toEqual([
      "isolate",
      "earth-continuity",
      "polarity",
      "open-circuit-voltage",
      "insulation-test",
      "wire-test-resistor",
      "connect",
      "close-test-resistor",
      "alarm-operates",
      "part-test-resistor",
      "alarm-clears",
      "remove-test-resistor",
      "record",
      "restore",
    ]);
  });

  it("states the open-circuit voltage by temperature: 10 × 40 V × (1 − 0.003 × 30) = 364 V at 55 °C", () => {
    const { expected } = step(steps(), "open-circuit-voltage");
    expect(expected.find(({ text }) => text.includes("55 °C"))!.value).toBeCloseTo(364, 9);
    expect(expected.find(({ text }) => text.includes("25 °C"))!.value).toBe(400);
  });

  it("by hand: below 30 kΩ less 20 % the next E24 value is 24 kΩ; beside 1 MΩ it shows 23.44 kΩ or more", () => {
    const { expected } = step(steps(), "close-test-resistor");
    expect(expected[0]).toMatchObject({ value: 24_000, dimension: "resistance" });
    expect(expected[0]!.text).toContain("23.44 kΩ");
  });

  it("shows every caution of the connection before it, and lets nothing stand in the way of parting it", () => {
    const wire = step(steps(), "wire-test-resistor");
    expect(wire.cautions).toEqual(cautionsFor("prove-alarm").map(({ id }) => id));
    expect(wire.warnings.join()).toMatch(/shock level/u);
    expect(wire.requires).toContain("array-isolated-both-poles");
    expect(step(steps(), "part-test-resistor").requires).toEqual([]);
  });

  it("asks for acknowledgement by those who hold the post and have an address", () => {
    const texts = step(steps(), "alarm-operates").expected.map(({ text }) => text);
    expect(texts).toContain("acknowledged by: desk");
    expect(texts.join()).toMatch(/earth fault on array A1/u);
  });

  it("starts the inverter on the resistor where it looks only at start, and does not stop one that looks all day at small currents", () => {
    expect(step(steps(), "close-test-resistor").do).toMatch(/^Stop I, close the switch/u);
    const allDay = { insulationCheck: { threshold: 30_000, at: ["start", "continuous"] } };
    expect(step(steps({}, allDay), "close-test-resistor").do).toMatch(/^Close the switch/u);
  });

  it.each([
    ["an earthed array", { earthing: "functional" }, {}, /One pole is earthed/u],
    ["an array of unknown earthing", { earthing: undefined }, {}, /not stated/u],
    ["storage on the same poles", {}, { kind: "storage-coupled" }, /storage-coupled equipment/u],
  ] as const)("leaves the resistor out in sight for %s, and says why", (_, array, inverter, why) => {
    const all = steps(array, inverter);
    for (const id of ["wire-test-resistor", "close-test-resistor", "alarm-operates"])
      expect(step(all, id).leftOut).toMatch(why);
    expect(step(all, "restore").leftOut).toBeNull();
  });
});
