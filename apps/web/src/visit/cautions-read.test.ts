import { cautionsFor, preconditionsFor, type Step } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import { cautionsOfStep, withCautionsRead } from "./cautions-read.ts";
import { alreadyRead, readAtCase } from "./read-at-case.ts";

const NOW = "2026-11-25T09:00:00.000Z";
const hoursLater = (hours: number): string => new Date(Date.parse(NOW) + hours * 3_600_000).toISOString();
const step = (action: Step["action"]) => ({ action, requires: preconditionsFor(action) });
const ids = (cautions: readonly { readonly id: string }[]): readonly string[] => cautions.map(({ id }) => id);
const fresh = (read: Record<string, string>, action: Step["action"], at = NOW): readonly string[] =>
  ids(cautionsOfStep(read, step(action), at).fresh);

readAtCase("c1", NOW);
const arrived = alreadyRead("c1");

describe("cautions of a step", () => {
  it.each(["read", "read-with-shunt", "tester", "isolate-string", "open-connector", "wait-dry"] as const)(
    "all stand before %s: open, folded as read before, or as a tick that the step asks for",
    (action) => {
      for (const read of [{}, arrived]) {
        const shown = cautionsOfStep(read, step(action), NOW);
        expect(ids([...shown.fresh, ...shown.before, ...shown.asked]).toSorted()).toEqual(
          ids(cautionsFor(action)).toSorted(),
        );
        for (const { askedAs } of shown.asked) expect(preconditionsFor(action)).toContain(askedAs);
      }
      expect(cautionsOfStep({}, step(action), NOW).before).toEqual([]);
    },
  );

  it("stand in the list where the step does not ask for the tick that says the same", () => {
    expect(ids(cautionsOfStep({}, { action: "read", requires: [] }, NOW).fresh)).toEqual(
      ids(cautionsFor("read")),
    );
  });

  it("stand alone where they are new with the step, with the time at which the others were read", () => {
    const { fresh: open, since } = cautionsOfStep(arrived, step("read-with-shunt"), hoursLater(1));
    expect([ids(open), since]).toEqual([["resistor-at-shock-level"], NOW]);
  });

  it("stand again after some hours, counted from when each of them stood open", () => {
    const read = withCautionsRead(arrived, step("read-with-shunt"), hoursLater(3));
    expect(fresh(read, "read-with-shunt", hoursLater(3.9))).toEqual([]);
    expect(fresh(read, "read-with-shunt", hoursLater(4.1))).not.toContain("resistor-at-shock-level");
    expect(fresh(read, "read-with-shunt", hoursLater(4.1))).toContain("licensed-and-local");
    expect(fresh(read, "read-with-shunt", hoursLater(24))).toEqual(fresh({}, "read-with-shunt"));
  });

  it("stand again after a clock was set back", () => {
    expect(fresh(arrived, "read", hoursLater(-1))).toEqual(fresh({}, "read"));
  });

  it.each(["open-connector", "confirm"] as const)(
    "stand open before %s although all of them were read before another way of parting a conductor",
    (action) => {
      const isolated = withCautionsRead({}, step("isolate-string"), NOW);
      expect(fresh(isolated, action)).toEqual(fresh({}, action));
      expect(fresh(isolated, action)).toContain("prove-zero-current");
      expect(fresh(withCautionsRead(isolated, step(action), NOW), action)).toEqual([]);
    },
  );

  it.each(["isolate-string", "open-connector", "confirm"] as const)(
    "all stand open before a first %s, those read at the case among the ones that are new with it",
    (action) => {
      expect(fresh(arrived, action)).toEqual(fresh({}, action));
      expect(fresh(arrived, action)).toContain("licensed-and-local");
    },
  );

  it("are all to be read on a visit that begins from no case, or from another one", () => {
    expect([alreadyRead("c2"), alreadyRead(null)]).toEqual([{}, {}]);
  });
});
