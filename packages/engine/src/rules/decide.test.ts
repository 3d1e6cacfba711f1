import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Inverter, ModuleType, Place, PvArray, Site } from "../assess/site.ts";
import type { Celsius, PerKelvin, VoltAmperes, Volts, Watts } from "../quantity/index.ts";
import { BUILT_IN_PACKS, packsWith } from "./built-in-packs.ts";
import { decideDuty } from "./decide.ts";
import type { DutyWithPacks } from "./decide-work.ts";
import type { RulePack } from "./pack.ts";

const MODULE: ModuleType = {
  id: "M",
  technology: "crystalline-silicon",
  pmax: 410 as Watts,
  voc: 49.5 as Volts,
  vocTemperatureCoefficient: { kind: "relative", perKelvin: -0.0027 as PerKelvin },
};
const INVERTER: Inverter = { id: "I", ratedPower: 10_000 as VoltAmperes };
const strings = (...modules: readonly number[]): PvArray["strings"] =>
  modules.map((count, i) => ({ id: `S${i + 1}`, modules: count }));
const ARRAY: PvArray = {
  id: "A",
  inverter: "I",
  module: "M",
  installed: "2019-03-14",
  strings: strings(14, 14),
};

interface Given {
  readonly place?: Place;
  readonly array?: Partial<PvArray>;
  readonly inverter?: Partial<Inverter>;
  readonly module?: Partial<ModuleType>;
  readonly lowest?: number | null;
  readonly packs?: readonly RulePack[];
}

function decide(given: Given = {}): DutyWithPacks {
  const array = { ...ARRAY, ...given.array };
  const lowest = given.lowest === undefined ? -3 : given.lowest;
  const site: Site = {
    id: "site",
    place: given.place ?? { country: "AU", region: "VIC" },
    ...(lowest === null ? {} : { lowestTemperature: lowest as Celsius }),
    modules: [{ ...MODULE, ...given.module }],
    inverters: [{ ...INVERTER, ...given.inverter }],
    arrays: [array],
    people: [],
    paths: [],
    proofs: [],
  };
  return decideDuty(array, site, packsWith(given.packs ?? []));
}

/** The array without a field: in a site file it would be absent, not undefined. */
function lacking(...fields: readonly (keyof PvArray)[]): Partial<PvArray> {
  return Object.fromEntries(fields.map((field) => [field, undefined]));
}

const US = (pack?: string): Place =>
  pack === undefined ? { country: "US" } : { country: "US", rules: { pack } };
const allText = (duty: DutyWithPacks): string => duty.reasons.map(({ text }) => text).join("\n");

describe("a missing fact", () => {
  it("leaves the duty undecided and is named, when the answer turns on it", () => {
    const duty = decide({ array: lacking("installed") });
    expect(duty).toMatchObject({ alarm: "undecided", rulePack: null, missing: ["arrays A: installed"] });
  });

  it("is passed over, and said to be, when the answer is the same either way", () => {
    const duty = decide({ lowest: null });
    expect(duty).toMatchObject({ alarm: "required", missing: [] });
    expect(allText(duty)).toContain("site.lowestTemperature. The answer is the same");
  });

  it("of the temperature decides near 120 V, and does not matter where even −90 °C stays below", () => {
    const near = decide({ lowest: null, array: { strings: strings(2) } });
    expect(near).toMatchObject({ alarm: "undecided", missing: ["site.lowestTemperature"] });
    const far = decide({ lowest: null, array: { strings: strings(1) } });
    expect(far).toMatchObject({ alarm: "not-required", missing: [] });
  });

  it("of the coefficient is named with the two ways to supply it", () => {
    const bare: ModuleType = { id: "M", pmax: 410 as Watts, voc: 49.5 as Volts };
    const duty = decide({
      array: { strings: strings(2) },
      module: { ...bare, ...(lackingModule as object) },
      lowest: 0,
    });
    expect(duty.alarm).toBe("undecided");
    expect(duty.missing.join()).toContain("vocTemperatureCoefficient, or technology");
  });

  it("of several facts names all on which the answer turns", () => {
    const duty = decide({ lowest: null, array: { strings: strings(2), ...lacking("installed") } });
    expect(duty.missing).toEqual(["site.lowestTemperature", "arrays A: installed"]);
  });
});

const lackingModule = { vocTemperatureCoefficient: undefined, technology: undefined };

describe("a place", () => {
  it("without a pack is undecided and says how to name one", () => {
    const duty = decide({ place: { country: "CL" } });
    expect(duty).toMatchObject({ alarm: "undecided", rulePack: null });
    expect(duty.missing.join()).toContain("CL");
  });

  it("before the oldest pack held is undecided and says for which day a pack is wanting", () => {
    const duty = decide({ array: { installed: "2011-05-01" } });
    expect(duty.missing).toEqual(["a rule pack that was in force in AU for work installed on 2011-05-01"]);
  });

  it("in the US is undecided until the adopted edition is named", () => {
    const duty = decide({ place: US(), array: { earthing: "solid", mounting: "building" } });
    expect(duty.alarm).toBe("undecided");
    expect(duty.missing[0]).toContain("site.place.rules.pack: the edition that the authority has adopted");
  });

  it.each([
    ["us-nec-2014", "required"],
    ["us-nec-2017", "undecided"],
    ["us-nec-2020", "required"],
    ["us-nec-2023", "required"],
  ])("in the US under %s, a floating roof array: %s", (pack, alarm) => {
    const duty = decide({ place: US(pack), array: { earthing: "floating", mounting: "building" } });
    expect(duty).toMatchObject({ alarm, rulePack: pack });
  });

  it("whose countries adopt by act names no pack until the file does, though only one is held", () => {
    const array = { earthing: "floating" as const };
    expect(decide({ place: { country: "DE" }, array })).toMatchObject({ alarm: "undecided", rulePack: null });
    const place: Place = { country: "DE", rules: { pack: "eu-hd-60364-7-712-2016" } };
    expect(decide({ place, array }).alarm).toBe("required");
  });

  it("that names a pack nobody holds says which are held", () => {
    const duty = decide({ place: US("us-nec-1999") });
    expect(duty.alarm).toBe("undecided");
    expect(duty.missing.join()).toMatch(/no pack is called us-nec-1999; held are .*us-nec-2020/);
  });

  it("that names a pack of another country or time is told so", () => {
    const duty = decide({
      place: { country: "US", rules: { pack: "au-nz-5033-2014" } },
      array: { installed: "2023-01-01" },
    });
    expect(duty).toMatchObject({ alarm: "required", rulePack: "au-nz-5033-2014" });
    expect(allText(duty)).toContain("do not include US");
    expect(allText(duty)).toContain("would not choose it for work installed on 2023-01-01");
  });

  it("in Great Britain asks for the earthing, and requires the alarm of a floating array", () => {
    const place: Place = { country: "GB" };
    expect(decide({ place }).missing).toEqual(["arrays A: earthing"]);
    expect(decide({ place, array: { earthing: "floating" } }).alarm).toBe("required");
    expect(decide({ place, array: { earthing: "functional" } }).missing.join()).toContain("section 712");
  });
});

describe("the exception of NEC 690.41(B)", () => {
  const excepted: Partial<PvArray> = { earthing: "solid", mounting: "field", strings: strings(10, 10) };
  it.each([
    ["two circuits in a field, solidly grounded", {}, "not-required"],
    ["three circuits", { strings: strings(10, 10, 10) }, "required"],
    ["on a building", { mounting: "building" }, "required"],
    ["functionally grounded", { earthing: "functional" }, "required"],
  ] as const)("%s: %s", (_, change, alarm) => {
    expect(decide({ place: US("us-nec-2020"), array: { ...excepted, ...change } }).alarm).toBe(alarm);
  });

  it("stays open while the mounting is not stated, but not with a third circuit", () => {
    const unmounted = { ...excepted, ...lacking("mounting") };
    expect(decide({ place: US("us-nec-2020"), array: unmounted }).missing).toEqual(["arrays A: mounting"]);
    const third = { ...unmounted, strings: strings(10, 10, 10) };
    expect(decide({ place: US("us-nec-2020"), array: third }).alarm).toBe("required");
  });
});

describe("an altered array", () => {
  it("keeps the duty that its installation brought", () => {
    expect(decide({ array: { installed: "2016-01-01", altered: "2022-11-02" } })).toMatchObject({
      alarm: "required",
      rulePack: "au-nz-5033-2021",
    });
  });

  it("gets the duty from its alteration, with a word on the unaltered part", () => {
    const duty = decide({ array: { installed: "2013-01-01", altered: "2018-11-02" } });
    expect(duty).toMatchObject({ alarm: "required", rulePack: "au-nz-5033-2014" });
    expect(allText(duty)).toContain("The alteration brought the duty");
  });

  it("keeps a duty that a later edition would not have brought", () => {
    const edition = (id: string, alarm: "required" | "not-required", dates: object): RulePack => ({
      format: "earthbell.rules/1",
      id,
      title: id,
      edition: id,
      jurisdictions: [{ country: "CL" }],
      selectedBy: "date",
      inForce: [{ basis: "work-done", binding: "mandatory", source: "own", tag: "user", ...dates }],
      duty: [{ id: "all", when: [], alarm, text: "Every array.", source: "own", tag: "user" }],
    });
    const packs = [
      edition("strict", "required", { until: "2020-12-31" }),
      edition("lax", "not-required", { from: "2021-01-01" }),
    ];
    const duty = decide({
      packs,
      place: { country: "CL" },
      array: { installed: "2019-01-01", altered: "2022-01-01" },
    });
    expect(duty).toMatchObject({ alarm: "required", rulePack: "strict" });
    expect(allText(duty)).toContain("an alteration does not end it");
    const fresh = decide({ packs, place: { country: "CL" }, array: { installed: "2022-01-01" } });
    expect(fresh.alarm).toBe("not-required");
  });

  it("needs no date of installation when the alteration brings the duty anyway", () => {
    expect(decide({ array: { ...lacking("installed"), altered: "2018-11-02" } }).alarm).toBe("required");
  });

  it("is undecided when only the alteration is known and brings none", () => {
    const duty = decide({
      array: { ...lacking("installed"), altered: "2018-11-02", strings: strings(1) },
      lowest: 0,
    });
    expect(duty).toMatchObject({ alarm: "undecided", missing: ["arrays A: installed"] });
  });
});

describe("an altered array of which neither work is settled", () => {
  // Installed under the citations of 2010, altered inside the choice window of 2025/26.
  const duty = decide({
    place: { country: "NZ" },
    array: { installed: "2017-10-09", altered: "2026-05-18", workBegan: "2026-05-11" },
  });

  it("tells both works, with the day on which the alteration began", () => {
    for (const day of ["installed on 2017-10-09", "altered on 2026-05-18", "began on 2026-05-11"])
      expect(allText(duty)).toContain(day);
  });

  it("lists what each work lacks, with the name of the work", () => {
    expect(duty).toMatchObject({ alarm: "undecided", rulePack: null, row: null });
    expect(duty.missing).toEqual([
      expect.stringMatching(/^for the installation: the edition of AS\/NZS 5033/u),
      expect.stringMatching(/^for the alteration: site\.place\.rules\.pack/u),
      expect.stringMatching(/^for the alteration: if nz-regulations-2010 binds/u),
    ]);
  });

  it("says which pack may bind for which work, and what each says", () => {
    expect(duty.mayBind).toEqual([
      { work: "installed", rulePack: "nz-regulations-2010", says: "undecided" },
      { work: "altered", rulePack: "nz-regulations-2010", says: "undecided" },
      { work: "altered", rulePack: "nz-regulations-2025", says: "required" },
    ]);
  });

  it("says once what both works lack", () => {
    const both = decide({
      place: { country: "GB" },
      array: { installed: "2019-01-01", altered: "2022-01-01" },
    });
    expect(both.missing).toEqual(["arrays A: earthing"]);
  });
});

describe("what the packs that may bind say", () => {
  it("is told one by one where their rows disagree, never as the same", () => {
    const duty = decide({
      place: { country: "NZ" },
      array: { installed: "2026-03-09", workBegan: "2026-02-16" },
    });
    expect(duty).toMatchObject({ alarm: "undecided", rulePack: null });
    expect(duty.mayBind).toEqual([
      { rulePack: "nz-regulations-2010", says: "undecided" },
      { rulePack: "nz-regulations-2025", says: "required" },
    ]);
  });

  it("counts an edition that is not held here, and names what would settle the one that is", () => {
    const duty = decide({ place: { country: "DE" }, array: { earthing: "functional" } });
    expect(duty.mayBind).toEqual([
      { rulePack: "eu-hd-60364-7-712-2016", says: "undecided" },
      { rulePack: null, says: "undecided" },
    ]);
    expect(duty.missing).toEqual([
      expect.stringContaining("the edition that the authority has adopted"),
      expect.stringContaining("if eu-hd-60364-7-712-2016 binds: section 712"),
    ]);
  });

  it("is the deciding pack alone where one decides", () => {
    expect(decide({}).mayBind).toEqual([{ rulePack: "au-nz-5033-2014", says: "required" }]);
  });
});

describe("an edition later than the work", () => {
  const at = (installed?: string): DutyWithPacks =>
    decide({
      place: US(),
      array: { earthing: "functional", ...(installed === undefined ? lacking("installed") : { installed }) },
    });
  const held = (duty: DutyWithPacks): readonly string[] => duty.packs.map(({ id }) => id);

  it.each([
    ["2012-06-18", []],
    // The edition of 2014 was issued in the summer of 2013 [memory].
    ["2013-10-01", ["us-nec-2014"]],
    ["2018-05-02", ["us-nec-2014", "us-nec-2017"]],
    ["2024-05-02", ["us-nec-2014", "us-nec-2017", "us-nec-2020", "us-nec-2023"]],
    [undefined, ["us-nec-2014", "us-nec-2017", "us-nec-2020", "us-nec-2023"]],
  ])("work done on %s: %j may have been adopted", (installed, ids) => {
    expect(held(at(installed))).toEqual(ids);
  });

  it("is said to be left out, and an earlier one is asked for where none is held", () => {
    const duty = at("2012-06-18");
    expect(allText(duty)).toContain("later than the work");
    expect(duty.missing).toEqual([expect.stringContaining("had adopted by 2012-06-18")]);
  });

  it("is doubted where the site file names it all the same", () => {
    const duty = decide({ place: US("us-nec-2017"), array: { installed: "2012-06-18" } });
    expect(allText(duty)).toContain("cannot have been adopted by then");
  });
});

describe("New Zealand, where the day on which work began counts", () => {
  const place: Place = { country: "NZ" };
  it("is settled without that day when a year before the end is still one side of the line", () => {
    expect(decide({ place, array: { installed: "2028-01-01" } })).toMatchObject({
      alarm: "required",
      rulePack: "nz-regulations-2025",
    });
  });

  it("asks for that day when the work may have begun on either side of the line", () => {
    expect(decide({ place, array: { installed: "2026-11-13" } }).missing.join()).toContain(
      "arrays A: workBegan",
    );
  });

  it("takes the pack that the file names", () => {
    const named: Place = { country: "NZ", rules: { pack: "nz-regulations-2025" } };
    expect(decide({ place: named, array: { installed: "2026-03-01" } }).alarm).toBe("required");
  });
});

describe("how modules reach the mains", () => {
  it("behind microinverters one module on an input stays below 120 V", () => {
    const duty = decide({ inverter: { kind: "microinverter" }, array: { strings: strings(1, 1, 1) } });
    expect(duty.alarm).toBe("not-required");
    expect(allText(duty)).toContain("microinverters");
  });

  it("behind microinverters several modules to a string leave the series count open, named", () => {
    const duty = decide({ inverter: { kind: "microinverter" }, array: { strings: strings(14) } });
    expect(duty.alarm).toBe("undecided");
    expect(duty.missing.join()).toContain("one for each microinverter input");
  });

  it("behind DC-DC units only a stated voltage counts", () => {
    const inverter = { kind: "dc-dc" } as const;
    expect(decide({ inverter }).missing.join()).toContain("statedMaxVoltage");
    expect(decide({ inverter, array: { statedMaxVoltage: 400 as Volts } }).alarm).toBe("required");
    expect(decide({ inverter, array: { statedMaxVoltage: 120 as Volts } }).alarm).toBe("not-required");
  });

  it("coupled to storage is judged for the array, saying what is left out", () => {
    const duty = decide({ inverter: { kind: "storage-coupled" } });
    expect(duty.alarm).toBe("required");
    expect(allText(duty)).toContain("battery side");
  });
});

describe("packs", () => {
  it("a user's pack with a known id replaces the built-in one, another is added", () => {
    const own = { ...BUILT_IN_PACKS.find((pack) => pack.id === "au-nz-5033-2014")!, duty: [] };
    const other = { ...own, id: "cl-own", jurisdictions: [{ country: "CL" }], selectedBy: "date" as const };
    expect(packsWith([own, other])).toHaveLength(BUILT_IN_PACKS.length + 1);
    expect(decide({ packs: [own] }).missing).toEqual([
      "a row of pack au-nz-5033-2014 that covers this array",
    ]);
    expect(decide({ packs: [other], place: { country: "CL" } }).rulePack).toBe("cl-own");
  });

  it("of a region bind only there, and ask for the region when it is not stated", () => {
    const regional: RulePack = {
      format: "earthbell.rules/1",
      id: "br-region",
      title: "A region's rule",
      edition: "1",
      jurisdictions: [{ country: "BR", regions: ["SP"] }],
      selectedBy: "date",
      inForce: [{ basis: "work-done", binding: "mandatory", source: "own", tag: "user" }],
      duty: [{ id: "all", when: [], alarm: "required", text: "Every array.", source: "own", tag: "user" }],
    };
    const at = (region?: string): DutyWithPacks =>
      decide({
        packs: [regional],
        place: region === undefined ? { country: "BR" } : { country: "BR", region },
      });
    expect(at("SP").alarm).toBe("required");
    expect(at("RJ").alarm).toBe("undecided");
    expect(at().missing).toEqual(["site.place.region"]);
  });

  it.each(BUILT_IN_PACKS)("$id is well formed: unique rows, sourced values, tables without gaps", (pack) => {
    const rows = pack.duty.map((row) => row.id);
    expect(new Set(rows).size).toBe(rows.length);
    for (const row of pack.duty) {
      expect(row.source).not.toBe("");
      expect(row.settledBy !== undefined).toBe(row.alarm === "undecided");
    }
    const table = pack.insulationThreshold?.rows ?? [];
    table.forEach((row, i) => {
      expect(row.above).toBe(i === 0 ? 0 : table[i - 1]!.atMost);
      expect(row.atMost === undefined).toBe(i === table.length - 1);
    });
    for (const { from, until } of pack.inForce) expect((from ?? "0000") <= (until ?? "9999")).toBe(true);
  });
});

describe("soundness", () => {
  const day = fc
    .date({ min: new Date("2009-01-01"), max: new Date("2028-12-31"), noInvalidDate: true })
    .map((date) => date.toISOString().slice(0, 10));
  const facts = fc.record({
    country: fc.constantFrom("AU", "NZ", "US", "GB", "DE"),
    pack: fc.constantFrom(undefined, "us-nec-2014", "us-nec-2017", "us-nec-2020", "au-nz-5033-2014"),
    installed: day,
    earthing: fc.constantFrom("floating" as const, "functional" as const, "solid" as const),
    mounting: fc.constantFrom("building" as const, "field" as const),
    modules: fc.integer({ min: 1, max: 4 }),
    count: fc.integer({ min: 1, max: 3 }),
    lowest: fc.integer({ min: -45, max: 20 }),
  });
  const known = fc.record({
    installed: fc.boolean(),
    earthing: fc.boolean(),
    mounting: fc.boolean(),
    lowest: fc.boolean(),
  });

  it("an answer given while facts are missing is the answer when they are supplied", () => {
    fc.assert(
      fc.property(facts, known, (fact, has) => {
        const rules = fact.pack === undefined ? {} : { rules: { pack: fact.pack } };
        const place: Place = { country: fact.country, ...rules };
        const { installed, earthing, mounting } = fact;
        const array = {
          installed,
          earthing,
          mounting,
          strings: strings(...Array<number>(fact.count).fill(fact.modules)),
        };
        const full = decide({ place, array, lowest: fact.lowest });
        const hidden = (["installed", "earthing", "mounting"] as const).filter((field) => !has[field]);
        const partial = decide({
          place,
          array: { ...array, ...lacking(...hidden) },
          lowest: has.lowest ? fact.lowest : null,
        });
        if (partial.alarm !== "undecided") expect(partial.alarm).toBe(full.alarm);
        else expect(partial.missing.length).toBeGreaterThan(0);
      }),
      { numRuns: 400 },
    );
  });
});
