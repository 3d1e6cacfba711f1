import { describe, expect, it } from "vitest";
import type { SafetyAction } from "./actions.ts";
import { CAUTIONS, cautionsFor } from "./cautions.ts";
import { preconditionsFor } from "./preconditions.ts";

const ACTIONS: readonly SafetyAction[] = [
  "arrive",
  "read",
  "read-with-shunt",
  "tester",
  "insulation-test",
  "isolate-string",
  "open-connector",
  "confirm",
  "wait-dry",
  "prove-alarm",
  "restore",
];

describe("safety text", () => {
  it.each(["open-connector", "confirm", "isolate-string"] as const)(
    "%s is never offered without proven zero current, and says why",
    (action) => {
      expect(preconditionsFor(action)).toContain("zero-current-proven");
      expect(cautionsFor(action).map((caution) => caution.id)).toContain("prove-zero-current");
    },
  );

  it.each(ACTIONS)("%s starts with the licensed person and the local code", (action) => {
    expect(cautionsFor(action)[0]?.id).toBe("licensed-and-local");
    expect(new Set(preconditionsFor(action)).size).toBe(preconditionsFor(action).length);
  });

  it.each(["read", "read-with-shunt", "tester", "insulation-test"] as const)(
    "%s is done on an isolated array with a proved instrument and no earth reference",
    (action) => {
      expect(preconditionsFor(action)).toEqual(
        expect.arrayContaining([
          "array-isolated-both-poles",
          "instrument-proved",
          "earth-references-removed",
        ]),
      );
    },
  );

  it("connects the alarm's test resistor only by a rated switch and for a limited time", () => {
    expect(preconditionsFor("prove-alarm")).toEqual(
      expect.arrayContaining(["shunt-rated", "connection-by-dc-switch", "time-limit-set"]),
    );
    expect(cautionsFor("prove-alarm").map((caution) => caution.id)).toContain("resistor-at-shock-level");
  });

  it("gives every caution an owner, a review day, a source and a step it belongs to, under its own id", () => {
    expect(new Set(CAUTIONS.map((caution) => caution.id)).size).toBe(CAUTIONS.length);
    for (const caution of CAUTIONS) {
      expect(caution.reviewedOn).toMatch(/^\d{4}-\d{2}-\d{2}$/);
      expect(caution.owner).not.toBe("");
      expect(caution.source).not.toBe("");
      expect(caution.appliesTo.length).toBeGreaterThan(0);
    }
  });
});
