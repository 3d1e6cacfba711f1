import {
  BUILT_IN_PACKS,
  type Celsius,
  decideDuty,
  type Duty,
  type ModuleType,
  type Place,
  type PvArray,
  type Site,
} from "@earthbell/engine";

import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

/** 14 × 49.5 V: above 120 V on any day. */
function duty(place: Place, array: Partial<PvArray>): Duty {
  const module = { id: "M", pmax: 410, voc: 49.5, technology: "crystalline-silicon" } as ModuleType;
  const full = {
    id: "A",
    inverter: "I",
    module: "M",
    strings: [{ id: "S", modules: 14 }],
    ...array,
  };
  const site = {
    id: "site",
    place,
    lowestTemperature: -3 as Celsius,
    modules: [module],
    inverters: [{ id: "I", ratedPower: 6000 }],
    arrays: [full],
    people: [],
    paths: [],
    proofs: [],
  } as unknown as Site;
  return decideDuty(full, site, BUILT_IN_PACKS);
}

describe("EnergySafe issue 38 p. 14 and the practice of cl. 3.4.3, Victoria", () => {
  it.each(cases.australia)(
    "installed $installed: $says, $alarm",
    ({ installed, pack, row, alternatives, alarm }) => {
      const decided = duty({ country: "AU", region: "VIC" }, { installed });
      expect(decided).toMatchObject({ rulePack: pack, alarm });
      if (row !== undefined) expect(decided.row).toBe(row);
      if (alternatives !== undefined) expect(decided.alternatives).toEqual(alternatives);
      expect(decided.missing.length === 0).toBe(alarm !== "undecided");
    },
  );

  it("outside Victoria says that the dates are to be confirmed", () => {
    const texts = duty({ country: "AU", region: "QLD" }, { installed: "2015-07-11" }).reasons.map(
      ({ text }) => text,
    );
    expect(texts.join(" ")).toContain("confirm them for QLD");
  });
});

describe("worksafe.govt.nz, change of citations", () => {
  it.each(cases.newZealand)("construction begins $workBegan: $says", ({ workBegan, packs }) => {
    const decided = duty({ country: "NZ" }, { installed: "2027-01-15", workBegan });
    const mayBind = [
      ...decided.alternatives,
      ...(decided.rulePack === null ? [] : [decided.rulePack]),
    ].sort();
    expect(mayBind).toEqual(packs);
    if (packs.length === 1) expect(decided.rulePack).toBe(packs[0]);
    else expect(decided.missing.join(" ")).toContain("site.place.rules.pack");
  });
});
