import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { assessSite } from "../assess/assess.ts";
import type { WeeklyHours } from "../assess/site.ts";
import { dailyHours } from "../notice/assumptions.ts";
import type { RulePack } from "../rules/pack.ts";
import { advise } from "./advise.ts";
import type { AdviceAnswers } from "./answers.ts";
import { effortOfPlan } from "./effort.ts";
import { adviceSite } from "./planned-site.ts";
import { ADVICE_QUESTIONS } from "./questions.ts";
import { TRIAL_ANSWERS } from "./trial-answers.ts";

const always: WeeklyHours = dailyHours(0, 24);
const shed = {
  id: "shearing-shed",
  place: {
    country: "AU",
    region: "VIC",
    timezone: "Australia/Melbourne",
    latitudeDeg: -37,
    longitudeDeg: 144,
  },
  installed: "2019-03-14",
  strings: [14, 14],
  module: {
    pmax: 410,
    voc: 49.5,
    vocTemperatureCoefficient: { kind: "relative", perKelvin: -0.0027 },
    area: 1.95,
  },
  lowestTemperature: -3,
  inverter: { ratedPower: 10_000, separation: "none" },
  earthing: "floating",
  mounting: "building",
  people: [
    { id: "owner", role: "owner", reads: dailyHours(6, 21), checksPerDay: 4 },
    { id: "desk", role: "service", reads: dailyHours(7, 17, 5), checksPerDay: 20 },
  ],
  present: dailyHours(5, 10),
  network: "owners-router",
  light: { passesPerDay: 6, viewingDistance: 4, accessible: true },
  relay: "any-fault",
} as unknown as AdviceAnswers;

const signalsOf = (answers: AdviceAnswers, packs: readonly RulePack[] = []) =>
  advise(answers, packs).plans.map(({ signals }) => signals.join("+"));
const without = (...ids: readonly (keyof AdviceAnswers)[]): AdviceAnswers =>
  Object.fromEntries(Object.entries(shed).filter(([id]) => !ids.includes(id as keyof AdviceAnswers)));

describe("the duty in an advice", () => {
  it.each<[string, AdviceAnswers, string]>([
    // Installed after 11 July 2015 and above 120 V: an alarm is required (common practice of the trade).
    ["is required above 120 V after 11 July 2015", shed, "required"],
    ["is open without the day of installation", without("installed"), "undecided"],
    ["is open without the module", without("module"), "undecided"],
    ["is open where nothing was answered", {}, "undecided"],
    // 3 × 38.0 V × 1.10 at 0 °C is 125.4 V, and two modules stay at 83.6 V.
    ["is none below 120 V on the coldest day", { ...shed, strings: [2] }, "not-required"],
  ])("%s", (_, answers, alarm) => {
    expect(advise(answers).duty.alarm).toBe(alarm);
  });

  it("is the one that an assessment of the saved site comes to, with the same rows", () => {
    for (const strings of [[2], [3], [14, 14]]) {
      const answers = { ...shed, strings };
      const site = adviceSite(answers, ["message"])!;
      expect(assessSite(site).arrays[0]!.duty).toEqual(advise(answers).array!.duty);
    }
  });

  it("follows a pack of the user's own", () => {
    const own = {
      format: "earthbell.rules/1",
      id: "board-1",
      title: "Island board",
      edition: "1",
      jurisdictions: [],
      selectedBy: "date",
      inForce: [],
      duty: [{ id: "all", when: [], alarm: "required", text: "All arrays.", source: "board", tag: "user" }],
      alarm: { signals: { value: ["annunciator"], source: "board", tag: "user" } },
    } as unknown as RulePack;
    const answers = { ...shed, place: { ...shed.place!, rules: { pack: "board-1" } } };
    const { plans, duty } = advise(answers, [own]);
    expect(duty.alarm).toBe("required");
    expect(plans[0]!.signals).toContain("annunciator");
    expect(plans.at(-1)!.accepted).toBe(false);
  });
});

describe("the plans of an advice", () => {
  it("are every combination of the possible signals", () => {
    expect([...signalsOf(shed)].sort()).toEqual([
      "annunciator",
      "annunciator+indicator",
      "indicator",
      "message",
      "message+annunciator",
      "message+annunciator+indicator",
      "message+indicator",
    ]);
  });

  it.each<[string, AdviceAnswers, string, string]>([
    ["a message without a network", { ...shed, network: "none" }, "message", "ruled-out"],
    ["a message that nobody reads", { ...shed, people: [] }, "message", "ruled-out"],
    ["a message over an unknown network", without("network"), "message", "unknown"],
    ["a sounder that nothing switches", { ...shed, relay: "none" }, "annunciator", "ruled-out"],
    ["a sounder where nobody is", { ...shed, present: [] }, "annunciator", "ruled-out"],
    ["a sounder where presence is unknown", without("present"), "annunciator", "unknown"],
    ["a light behind a locked door", { ...shed, light: { accessible: false } }, "indicator", "ruled-out"],
    ["a light in an unknown place", without("light"), "indicator", "unknown"],
  ])("leave out %s and say why", (_, answers, signal, state) => {
    const { plans, notPlanned } = advise(answers);
    expect(plans.flatMap(({ signals }) => signals)).not.toContain(signal);
    expect(notPlanned.find((one) => one.signal === signal)).toMatchObject({ state });
    expect(notPlanned.find((one) => one.signal === signal)!.why).toMatch(/\.$/u);
  });

  it("name for each that is open the answers it waits for", () => {
    const { notPlanned, undecided } = advise(without("network", "relay", "light"));
    expect(notPlanned.map(({ open }) => open)).toEqual([["network"], ["relay"], ["light"]]);
    expect(undecided.map(({ waitsFor }) => waitsFor)).toEqual([["network"], ["relay"], ["light"]]);
  });

  it("put one that serves before one that does not", () => {
    const seldom = { ...shed, light: { ...shed.light!, passesPerDay: 0.1 } };
    const { plans } = advise(seldom);
    const serving = plans.map(({ serves }) => serves);
    expect(serving).toEqual([...serving].sort((a, b) => Number(b) - Number(a)));
    expect(plans.find(({ signals }) => signals.join() === "indicator")!.serves).toBe(false);
  });

  it("never notice later by one signal more", () => {
    const { plans } = advise(shed);
    for (const small of plans)
      for (const large of plans)
        if (small.signals.every((signal) => large.signals.includes(signal)))
          expect(large.notice.unnoticedAfter24h).toBeLessThanOrEqual(small.notice.unnoticedAfter24h + 1e-9);
  });

  it("prefer the less work among plans that notice alike", () => {
    // Somebody looks at the light and hears the sounder all day and night: either notices at once.
    const both = {
      ...shed,
      network: "none",
      present: always,
      light: { passesPerDay: 1000, viewingDistance: 2, accessible: true },
    } as AdviceAnswers;
    const [first] = advise(both).plans;
    expect(first!.signals).toEqual(["indicator"]);
  });
});

describe("the effort of a plan", () => {
  it("adds hours, shares visits and takes the dearest parts", () => {
    const [message, sounder] = [effortOfPlan(["message"], shed), effortOfPlan(["annunciator"], shed)];
    const { value } = effortOfPlan(["message", "annunciator"], shed);
    expect(value.hours[0]).toBe(message.value.hours[0] + sounder.value.hours[0]);
    expect(value.visits).toEqual(sounder.value.visits);
    expect(value.parts).toBe("medium");
  });
});

describe("the questions of an advice", () => {
  it("are all open at first, the place before all", () => {
    const { open, next } = advise({});
    expect(open.map(({ question }) => question).sort()).toEqual(ADVICE_QUESTIONS.map(({ id }) => id).sort());
    expect(next).toBe("place");
  });

  it("are none where everything was answered", () => {
    expect(advise(shed)).toMatchObject({ open: [], next: null, undecided: [] });
  });

  it.each<[string, AdviceAnswers, string]>([
    ["what turns the duty before what changes the plan", without("strings", "relay"), "strings"],
    [
      "what changes the plan before what only moves the time",
      without("network", "lowestTemperature"),
      "network",
    ],
  ])("put %s", (_, answers, next) => {
    expect(advise(answers).next).toBe(next);
  });

  it("take no trial answer for an answer", () => {
    fc.assert(
      fc.property(fc.subarray(ADVICE_QUESTIONS.map(({ id }) => id)), (missing) => {
        const { array, assumed, plans } = advise(without(...missing), [], { everyDays: 30 });
        if (missing.some((id) => ["place", "strings", "module", "inverter"].includes(id)))
          expect(array).toBeNull();
        if (missing.includes("people"))
          expect(plans.flatMap(({ signals }) => signals)).not.toContain("message");
        for (const { source, tag } of assumed) expect([source, tag].every((text) => text !== "")).toBe(true);
      }),
      { numRuns: 12 },
    );
  });

  it("have at least two usual answers each, or nothing could hang on them", () => {
    for (const { id } of ADVICE_QUESTIONS) expect(TRIAL_ANSWERS[id].length).toBeGreaterThan(1);
  });
});

describe("the instructions of an advice", () => {
  it("are for the signals of the first plan, and the owner hears of every inverter fault", () => {
    const { plans, instructions, tellOwner } = advise(shed);
    expect(instructions.map(({ signal }) => signal)).toEqual(plans[0]!.signals);
    expect(tellOwner.map(({ value }) => value).join(" ")).toMatch(/any inverter fault/u);
    expect(
      instructions.every(({ set, test, tell }) => [set, test, tell].every((list) => list.length > 0)),
    ).toBe(true);
  });

  it("ask for a second address and for every address that is missing", () => {
    const alone = {
      ...shed,
      people: [shed.people![0]!],
      relay: "none",
      light: { accessible: false },
    } as AdviceAnswers;
    const text = advise(alone)
      .instructions.flatMap(({ set }) => set.map(({ value }) => value))
      .join(" ");
    expect(text).toContain("at least one more address than owner");
    expect(text).toContain("Record the address of owner");
  });

  it("tell the test resistor once, for every signal", () => {
    const { endToEnd, instructions } = advise(shed);
    expect(endToEnd.value).toMatch(/test resistor/u);
    expect(instructions.flatMap(({ test }) => test.map(({ value }) => value)).join(" ")).not.toMatch(
      /test resistor/u,
    );
  });

  it("come with the cautions of proving, the licence first", () => {
    expect(advise(shed).cautions[0]!.text).toMatch(/licensed/u);
  });
});
