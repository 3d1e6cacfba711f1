import {
  drawScenario,
  drawTruth,
  firstRequests,
  measure,
  seededRandom,
  SIMULATED_KINDS,
  type SimulatedKind,
  visitOf,
} from "@earthbell/engine";
import { describe, expect, test } from "vitest";
import { readVisit } from "./read-visit.ts";
import { visitText } from "./visit-text.ts";

const kinds = Object.keys(SIMULATED_KINDS) as SimulatedKind[];

describe("a visit written as text", () => {
  test.each(kinds)("%s: reading the text gives the same visit to six digits", (kind) => {
    const random = seededRandom(11);
    const drawn = drawScenario(kind, random);
    const truth = drawTruth(drawn.scenario, random);
    const visit = visitOf(
      drawn.scenario,
      firstRequests(drawn.on).map((request) => measure(truth, request, random)),
    );
    const read = readVisit(visitText(visit, ["simulated"]), "visit.yaml");
    if (!read.ok) throw new Error(JSON.stringify(read.faults));
    expect(read.record.strings).toEqual(visit.strings);
    expect(read.record.circuits).toEqual(visit.circuits);
    read.record.readings.forEach((reading, index) => {
      const wrote = visit.readings[index]!;
      expect({ ...reading, value: 0 }).toEqual({ ...wrote, value: 0 });
      expect(Math.abs(reading.value / wrote.value - 1)).toBeLessThan(1e-5);
    });
  });
});
