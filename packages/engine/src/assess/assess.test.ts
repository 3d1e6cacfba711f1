import { describe, expect, it } from "vitest";
import type {
  Amperes,
  Celsius,
  Minutes,
  Ohms,
  PerKelvin,
  SquareMetres,
  VoltAmperes,
  Volts,
  Watts,
} from "../quantity/index.ts";
import { BUILT_IN_PACKS, type RulePack } from "../rules/index.ts";
import { assessSite } from "./assess.ts";
import type { Assessment } from "./assessment.ts";
import { SITE_CODES } from "./codes.ts";
import type { Inverter, ModuleType, Path, PvArray, Site } from "./site.ts";

const MODULE: ModuleType = {
  id: "M1",
  technology: "crystalline-silicon",
  pmax: 410 as Watts,
  voc: 49.5 as Volts,
  vocTemperatureCoefficient: { kind: "relative", perKelvin: -0.0027 as PerKelvin },
  area: 1.95 as SquareMetres,
};
const INVERTER: Inverter = {
  id: "INV1",
  ratedPower: 10_000 as VoltAmperes,
  separation: "none",
  residualMonitor: true,
  insulationCheck: { threshold: 40_000 as Ohms, at: ["start"] },
  defaultPasswordChanged: true,
};
const ARRAY: PvArray = {
  id: "A1",
  inverter: "INV1",
  module: "M1",
  installed: "2019-03-14",
  earthing: "floating",
  mounting: "building",
  strings: [
    { id: "S1", modules: 14 },
    { id: "S2", modules: 14 },
  ],
};
const MESSAGE: Path = {
  id: "P1",
  arrays: ["A1"],
  signal: "message",
  to: ["owner", "desk"],
  repeatEvery: 60 as Minutes,
  until: ["acknowledged", "cleared"],
};

interface Change {
  readonly site?: Partial<Site>;
  readonly array?: Partial<PvArray>;
  readonly inverter?: Partial<Inverter>;
  readonly module?: Partial<ModuleType>;
}
const site = (change: Change = {}): Site => ({
  id: "tarn-hill",
  place: { country: "AU", region: "VIC" },
  lowestTemperature: -3 as Celsius,
  modules: [{ ...MODULE, ...change.module }],
  inverters: [{ ...INVERTER, ...change.inverter }],
  arrays: [{ ...ARRAY, ...change.array }],
  people: ["owner", "desk"].map((id) => ({ id, address: { email: `${id}@example.org` } })),
  paths: [],
  proofs: [],
  ownerInformed: { on: "2019-03-20", document: "notice-3" },
  ...change.site,
});
const assess = (change: Change = {}): Assessment => assessSite(site(change), { onDate: "2026-11-20" });
const arrayCodes = (change: Change = {}): readonly string[] =>
  assess(change).arrays[0]!.findings.map((finding) => finding.code);
const ownerCodes = (change: Change = {}): readonly string[] =>
  assess(change).owner.findings.map((finding) => finding.code);

describe("the figures of an array", () => {
  const [array] = assess().arrays;

  it("are those worked out by hand for 28 modules of 410 W, 49.5 V, 1.95 m²", () => {
    // 28 × 410; 28 × 1.95; 14 × 49.5 × 1.0756; 40e6 / 54.6 = 732 601; over 30 kΩ = 24.42
    expect(array).toMatchObject({
      powerWatts: 11_480,
      areaM2: 54.6,
      maxVoltage: { volts: 745.39, method: "coefficient", temperatureC: -3 },
      duty: { alarm: "required", rulePack: "au-nz-5033-2014" },
      insulationThreshold: { ohms: 30_000 },
      insulationTest: { testVoltage: 1000, minimumOhms: 1_000_000 },
      residualLimit: { continuousMilliamps: 300 },
      healthyFloor: { ohms: 732_601, marginToThreshold: 24.42 },
      // 30 kΩ less 20 % is 24 kΩ, a value of E24; 745.39 V over it is 31.1 mA and 23.2 W, doubled and rounded up: 50 W
      proofResistor: { ohms: 24_000, watts: 50, milliamps: 31.1, elements: 3, permitted: true },
    });
  });

  it("are written in the reasons as they are given", () => {
    // 14 × 49.5 × 1.0756 = 745.3908
    expect(array!.duty.reasons.map(({ text }) => text).join()).toContain("Highest array voltage 745.39 V");
  });

  it("each say where they come from", () => {
    for (const figure of [
      array!.maxVoltage,
      array!.insulationThreshold,
      array!.insulationTest,
      array!.residualLimit,
      array!.healthyFloor,
      ...array!.duty.reasons,
    ]) {
      expect(figure?.source).toMatch(/./);
      expect(figure?.tag).toMatch(/./);
    }
  });

  it("are null, never guessed, where the file does not state what they need", () => {
    const bare = assess({
      array: { earthing: undefined as never },
      module: {
        area: undefined as never,
        vocTemperatureCoefficient: undefined as never,
        technology: undefined as never,
      },
    }).arrays[0]!;
    expect(bare).toMatchObject({ areaM2: null, maxVoltage: null, healthyFloor: null, proofResistor: null });
    expect(bare.findings.map(({ code }) => code)).toEqual(
      expect.arrayContaining(["DUTY_VOLTAGE_UNKNOWN", "PROOF_EARTHING_UNKNOWN"]),
    );
  });
});

describe("the threshold", () => {
  it("is given while the pack is not settled, if all that may bind agree", () => {
    expect(assess({ array: { installed: undefined as never } }).arrays[0]!.insulationThreshold?.ohms).toBe(
      30_000,
    );
  });

  it("falls back on the inverter's own limit, then on V/30 mA for a floating array, then on nothing", () => {
    const place = { country: "CL" };
    const own = assess({ site: { place } }).arrays[0]!.insulationThreshold;
    expect(own).toMatchObject({ ohms: 40_000, tag: "user" });
    const unset = { insulationCheck: { at: ["start" as const] } };
    const derived = assess({ site: { place }, inverter: unset }).arrays[0]!.insulationThreshold;
    // 745.39 V / 30 mA = 24 846.4 Ω by hand, upwards to the ohm
    expect(derived?.ohms).toBe(24_847);
    const earthed = { site: { place }, inverter: unset, array: { earthing: "functional" as const } };
    expect(assess(earthed).arrays[0]!.insulationThreshold).toBeNull();
    expect(arrayCodes(earthed)).toContain("DUTY_THRESHOLD_UNKNOWN");
  });

  it("is not lowered by one of two packs while the other, which has no table, may bind", () => {
    // 6 strings of 14: 34.4 kW, for which the table says less than 745.39 V / 30 mA = 24 846.4 Ω
    const strings = Array.from({ length: 6 }, (_, i) => ({ id: `S${i}`, modules: 14 }));
    const array = { installed: "2026-05-18", workBegan: "2026-05-11", strings };
    const inverter = { ratedPower: 34_000 as VoltAmperes };
    const at = (rules: object): number | undefined =>
      assess({ site: { place: { country: "NZ", ...rules } }, array, inverter }).arrays[0]!.insulationThreshold
        ?.ohms;
    expect(at({})).toBe(24_847);
    expect(at({ rules: { pack: "nz-regulations-2025" } })).toBeLessThan(24_847);
  });

  it("is not given for a solidly earthed array, which has no insulation to measure", () => {
    const solid = { array: { earthing: "solid" as const } };
    expect(assess(solid).arrays[0]!.insulationThreshold).toBeNull();
    expect(arrayCodes(solid)).not.toContain("DUTY_THRESHOLD_UNKNOWN");
  });

  it("above the detector's own limit is a fault", () => {
    const low = { inverter: { insulationCheck: { threshold: 20_000 as Ohms, at: ["start" as const] } } };
    expect(arrayCodes(low)).toContain("DUTY_DETECTOR_BELOW_THRESHOLD");
    expect(arrayCodes()).not.toContain("DUTY_DETECTOR_BELOW_THRESHOLD");
    expect(arrayCodes({ inverter: { insulationCheck: { at: ["start"] } } })).toContain(
      "DUTY_DETECTOR_UNKNOWN",
    );
  });

  it("warns where kW and kVA fall in different rows", () => {
    // 50 × 410 W = 20.5 kW on 20 kVA
    const array = { strings: [14, 12, 12, 12].map((modules, i) => ({ id: `S${i}`, modules })) };
    const change = { array, inverter: { ratedPower: 20_000 as VoltAmperes } };
    expect(assess(change).arrays[0]!.insulationThreshold).toMatchObject({
      ohms: 20_000,
      otherwise: { ohms: 30_000, rating: "inverter-kilovoltamperes" },
    });
    expect(arrayCodes(change)).toContain("DUTY_THRESHOLD_BY_RATING");
  });
});

describe("sound insulation against the limit", () => {
  const floorCodes = (strings: number): readonly string[] =>
    arrayCodes({
      array: { strings: Array.from({ length: strings }, (_, i) => ({ id: `S${i}`, modules: 15 })) },
    }).filter((code) => code.startsWith("DUTY_FLOOR"));

  it.each([
    // 40e6 / (15 × 1.95 m² × strings), by hand, against the check's 40 kΩ
    [10, "136.8 kΩ", []],
    [20, "68.4 kΩ", ["DUTY_FLOOR_NEAR_THRESHOLD"]],
    [34, "40.2 kΩ", ["DUTY_FLOOR_NEAR_THRESHOLD"]],
    [35, "39.1 kΩ", ["DUTY_FLOOR_BELOW_THRESHOLD"]],
  ])("of %i wet strings is %s: %j", (strings, _floor, codes) => {
    expect(floorCodes(strings)).toEqual(codes);
  });

  it("below the limit is a fault that says to expect false alarms and what to do", () => {
    const strings = Array.from({ length: 40 }, (_, i) => ({ id: `S${i}`, modules: 15 }));
    const below = assess({ array: { strings } }).arrays[0]!.findings.find(
      ({ code }) => code === "DUTY_FLOOR_BELOW_THRESHOLD",
    )!;
    expect(below.severity).toBe("fault");
    expect(below.text).toMatch(
      /34\.19 kΩ.*below the limit of 40 kΩ.*expect alarms in wet weather.*Treat each as a fault/u,
    );
  });

  it("adds up over the arrays of one inverter", () => {
    const two = { site: { arrays: [ARRAY, { ...ARRAY, id: "A2" }] } };
    const shared = assess(two).arrays[0]!.findings.find(({ code }) => code === "DUTY_SHARED_CHECK");
    // 40e6 / 109.2, by hand
    expect(shared?.figures).toEqual({ commonFloorOhms: 366_300 });
  });

  it("of very many arrays is told once, with the first names only", () => {
    const arrays = Array.from({ length: 400 }, (_, i) => ({ ...ARRAY, id: `A${i}` }));
    const { arrays: assessed, warnings } = assess({ site: { arrays } });
    const shared = assessed[399]!.findings.find(({ code }) => code === "DUTY_SHARED_CHECK");
    expect(shared?.text).toContain("A0, A1, A2, A3, A4, A5, A6, A7, A8, A9, A10, A11 and 388 more together");
    expect(warnings.filter((text) => text.startsWith("DUTY_FLOOR_BELOW_THRESHOLD"))).toHaveLength(1);
  });
});

describe("residual current", () => {
  it.each([
    [{ separation: "none" as const, residualMonitor: false }, "DUTY_RESIDUAL_MONITOR_ABSENT"],
    [{ separation: undefined as never }, "DUTY_SEPARATION_UNKNOWN"],
  ])("%o: %s", (inverter, code) => {
    expect(arrayCodes({ inverter })).toContain(code);
  });

  it("has no limit stated behind a separating transformer", () => {
    expect(assess({ inverter: { separation: "simple" } }).arrays[0]!.residualLimit).toBeNull();
  });
});

describe("an array with an earthed conductor", () => {
  const spot = (change: Change): string =>
    assess(change).arrays[0]!.findings.find(({ code }) => code === "DUTY_BLIND_SPOT")?.text ?? "";
  const functional = { earthing: "functional" as const };

  it("is warned that a fault beside that conductor may open no interrupter", () => {
    expect(spot({ array: functional })).toContain("too little current for an interrupter or fuse");
    const inverter = { earthFaultInterrupter: { rating: 1 as Amperes } };
    expect(spot({ array: functional, inverter })).toContain("the interrupter of INV1, rated 1 A,");
    expect(spot({ array: functional, inverter: { earthFaultInterrupter: {} } })).toContain(
      "whose rating is not stated",
    );
  });

  it("alone is: a floating one has no earthed conductor", () => {
    expect(spot({})).toBe("");
  });
});

describe("the insulation test", () => {
  const voltage = (change: Change): string =>
    assess(change).arrays[0]!.findings.find(({ code }) => code === "PROOF_TEST_VOLTAGE_ABOVE_ARRAY")?.text ??
    "";

  it("above what the array reaches warns first of all that stays connected", () => {
    // 20 × 49.5 V × 1.25 = 1237.5 V, above 1000 V: tested at 1500 V
    const long = voltage({ array: { strings: [{ id: "S1", modules: 20 }] } });
    expect(long).toContain("applies 1500 V");
    expect(long).toMatch(/First see in their papers that modules.*do not apply it/u);
  });

  it("says nothing where there is none", () => {
    expect(voltage({ inverter: { kind: "microinverter" } })).toBe("");
  });
});

describe("without a duty", () => {
  const low = { array: { strings: [{ id: "S1", modules: 2 }] } };
  it("the inverter's limit is not measured against an alarm that nobody asks for", () => {
    const unset = { ...low, inverter: { insulationCheck: { at: ["start" as const] } } };
    const text = assess(unset).arrays[0]!.findings.find(({ code }) => code === "DUTY_DETECTOR_UNKNOWN")!.text;
    expect(text).toContain("No alarm is required on array A1; the limit that would apply is 30 kΩ");
    const lax = {
      ...low,
      inverter: { insulationCheck: { threshold: 20_000 as Ohms, at: ["start" as const] } },
    };
    expect(arrayCodes(lax)).not.toContain("DUTY_DETECTOR_BELOW_THRESHOLD");
  });
});

describe("the text of a finding", () => {
  const bare: Change = {
    site: {
      ownerInformed: undefined as never,
      paths: [MESSAGE, { id: "P3", arrays: ["A1"], signal: "indicator" }],
    },
    array: { earthing: "functional" },
    inverter: { separation: undefined as never, defaultPasswordChanged: undefined as never },
  };

  it.each([
    ["an array and its owner", bare],
    ["a duty that is not settled", { ...bare, site: { ...bare.site, place: { country: "US" } } }],
    ["a site without a path", { inverter: { defaultPasswordChanged: false } }],
  ])("stands alone: %s named, in at least two sentences, the last one what to do", (_, change) => {
    const { arrays, owner, paths } = assess(change);
    const ours = [...arrays, owner, ...paths].flatMap(({ findings }) =>
      findings.filter(({ code }) => !code.startsWith("PATH_")),
    );
    expect(ours.length).toBeGreaterThan(1);
    for (const { text, code } of ours) {
      expect(text, code).toMatch(/A1|INV1|P1|P3|owner/u);
      expect(text.split(/[.] [A-Z]/u).length, code).toBeGreaterThan(1);
    }
  });
});

describe("the test resistor", () => {
  it.each([
    [{ array: { earthing: "functional" as const } }, "PROOF_ARRAY_NOT_FLOATING"],
    [{ array: { earthing: "solid" as const } }, "PROOF_ARRAY_NOT_FLOATING"],
    [{ inverter: { kind: "storage-coupled" as const } }, "PROOF_KIND_DECLINED"],
    [
      { inverter: { kind: "dc-dc" as const }, array: { statedMaxVoltage: 400 as Volts } },
      "PROOF_KIND_DECLINED",
    ],
    [{ site: { lowestTemperature: undefined as never } }, "PROOF_NOT_WORKED_OUT"],
  ])("%o is declined with %s", (change, code) => {
    expect(assess(change).arrays[0]!.proofResistor).toBeNull();
    expect(arrayCodes(change)).toContain(code);
  });

  it("above the residual limit is given as not permitted, a fault", () => {
    // 2500 × 410 W is above 500 kW: 1 kΩ less 20 % is 800 Ω, so 750 Ω; 745 V over it is 0.99 A; 90 kVA allow 0.9 A
    const array = { strings: Array.from({ length: 179 }, (_, i) => ({ id: `S${i}`, modules: 14 })) };
    const change = { array, inverter: { ratedPower: 90_000 as VoltAmperes } };
    expect(assess(change).arrays[0]!.proofResistor).toMatchObject({ ohms: 750, permitted: false });
    expect(arrayCodes(change)).toContain("PROOF_CURRENT_TOO_HIGH");
  });
});

describe("paths against the duty", () => {
  it("an array with duty and no path is a fault and a warning of the site", () => {
    expect(arrayCodes()).toContain("DUTY_NO_PATH");
    expect(assess().warnings).toEqual([
      expect.stringMatching(/^DUTY_NO_PATH: Array A1 must have an earth-fault alarm and no path serves it/u),
    ]);
  });

  it("an array without duty needs no path", () => {
    const low = { array: { strings: [{ id: "S1", modules: 2 }] } };
    expect(assess(low).arrays[0]!.duty.alarm).toBe("not-required");
    expect(assess(low).warnings).toEqual([]);
  });

  it("a path says which duty rests on it, and an unproven one leaves the array unproven", () => {
    const assessed = assess({ site: { paths: [MESSAGE] } });
    expect(assessed.paths[0]!.verdict).not.toBe("meets");
    expect(assessed.paths[0]!.findings.map(({ code }) => code)).toContain("DUTY_SERVED");
    expect(assessed.arrays[0]!.findings.map(({ code }) => code)).toEqual(
      expect.arrayContaining([expect.stringMatching(/^DUTY_(PATH_UNPROVEN|NO_SOUND_PATH)$/)]),
    );
  });

  const pack = BUILT_IN_PACKS.find(({ id }) => id === "au-nz-5033-2014")!;
  const sourced = <Value>(value: Value) => ({ value, source: "own copy", tag: "user" as const });
  const codesUnder = (alarm: RulePack["alarm"] & object, path: Path): readonly string[] =>
    assessSite(site({ site: { paths: [path] } }), { packs: [{ ...pack, alarm }] }).paths[0]!.findings.map(
      (finding) => finding.code,
    );

  it("a pack that asks for more than the practice of the trade is heard", () => {
    const signals = sourced(["message" as const]);
    const strict = { signals, leastAddresses: sourced(3), repeatEveryMinutes: sourced(30) };
    expect(codesUnder(strict, MESSAGE)).toEqual(
      expect.arrayContaining(["DUTY_TOO_FEW_ADDRESSES", "DUTY_REPEAT_TOO_SLOW"]),
    );
    const met = { signals, leastAddresses: sourced(2), repeatEveryMinutes: sourced(60) };
    expect(codesUnder(met, MESSAGE).filter((code) => /ADDRESSES|REPEAT/.test(code))).toEqual([]);
  });

  it("what the path's own judge has said is not said twice", () => {
    const slow = { ...MESSAGE, to: ["owner"], repeatEvery: 120 as Minutes };
    const codes = codesUnder(pack.alarm!, slow);
    expect(codes).toEqual(expect.arrayContaining(["PATH_RECIPIENTS_TOO_FEW", "PATH_REPEAT_SLOW"]));
    expect(codes.filter((code) => code.startsWith("DUTY_TOO") || code.startsWith("DUTY_REPEAT"))).toEqual([]);
  });

  it("a signal that the pack does not list falls short", () => {
    const alarm = { signals: sourced(["annunciator" as const]) };
    const assessed = assessSite(site({ site: { paths: [MESSAGE] } }), { packs: [{ ...pack, alarm }] });
    expect(assessed.paths[0]!.verdict).toBe("falls-short");
    expect(assessed.paths[0]!.findings.map(({ code }) => code)).toContain("DUTY_SIGNAL_NOT_ACCEPTED");
  });

  it("a path that serves two arrays says that it does not tell which", () => {
    const paths = [{ ...MESSAGE, arrays: ["A1", "A2"] }];
    const assessed = assess({ site: { arrays: [ARRAY, { ...ARRAY, id: "A2" }], paths } });
    expect(assessed.paths[0]!.findings.map(({ code }) => code)).toContain("DUTY_PATH_SHARED");
  });
});

describe("the owner", () => {
  it("without a record is not said to be uninformed: it is unknown, with a finding", () => {
    const change = { site: { ownerInformed: undefined as never } };
    expect(assess(change).owner.informed).toBe("unknown");
    expect(ownerCodes(change)).toContain("OWNER_NOT_INFORMED");
    expect(assess().owner).toEqual({ informed: true, findings: [] });
  });

  it.each([
    [{ site: { ownerInformed: { on: "2019-03-20" } } }, "OWNER_DOCUMENT_MISSING"],
    [{ array: { altered: "2022-11-02" } }, "OWNER_INFORMED_BEFORE_ALTERATION"],
    [{ inverter: { defaultPasswordChanged: false } }, "OWNER_PASSWORD_DEFAULT"],
    [{ inverter: { defaultPasswordChanged: undefined as never } }, "OWNER_PASSWORD_UNKNOWN"],
    [{ site: { paths: [{ id: "P3", arrays: ["A1"], signal: "indicator" as const }] } }, "OWNER_ANY_FAULT"],
  ])("%o: %s", (change, code) => {
    expect(ownerCodes(change)).toContain(code);
  });

  it("need not hear of other faults when the relay is for earth faults only", () => {
    const paths: readonly Path[] = [{ id: "P2", arrays: ["A1"], signal: "annunciator" }];
    const relay = { operatesOn: "earth-fault" as const };
    expect(ownerCodes({ site: { paths }, inverter: { relay } })).not.toContain("OWNER_ANY_FAULT");
    expect(ownerCodes({ site: { paths } })).toContain("OWNER_ANY_FAULT");
  });
});

describe("codes and references", () => {
  it("every code has a title, a meaning and a next step", () => {
    for (const entry of SITE_CODES) {
      expect(entry.code).toMatch(/^(DUTY|OWNER|PROOF)_[A-Z_]+$/);
      for (const words of [entry.title, entry.meaning, entry.next, entry.source]) expect(words).toMatch(/\w/);
    }
  });

  it("an array that names an unknown module is refused with its code", () => {
    expect(() => assess({ array: { module: "M9" } })).toThrow(
      "ASSESS_REFERENCE_UNKNOWN: array A1 names module M9",
    );
  });
});
