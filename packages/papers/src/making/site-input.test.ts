import { overridableValues, packsInForce, rulesUsed, type Site, type ValueOverride } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import { paperHtml } from "../html/paper-html.ts";
import { issueOf } from "../identity/issue.ts";
import { SITE_PAPERS, siteDigests, siteInput, type SitePaper } from "./site-input.ts";
import { commissioningRecord } from "../kinds/commissioning-record/commissioning-record.ts";
import { designRecord } from "../kinds/design-record/design-record.ts";
import { fleetRegister, registerTable } from "../kinds/fleet-register/fleet-register.ts";

/** 14 modules in series on 10 kVA in Victoria, told by a message: the edition of 2021 binds. */
const SITE = {
  id: "mill",
  place: { country: "AU", region: "VIC" },
  lowestTemperature: -3,
  modules: [
    { id: "M", technology: "crystalline-silicon", pmax: 410, voc: 49.5 },
    { id: "N", technology: "crystalline-silicon", pmax: 410, voc: 49.5 },
  ],
  inverters: [{ id: "INV1", ratedPower: 10_000, kind: "string", separation: "none" }],
  arrays: [
    {
      ...{ id: "A1", inverter: "INV1", module: "M", installed: "2024-03-14", earthing: "floating" },
      ...{ mounting: "building", strings: [{ id: "S1", modules: 14 }] },
    },
  ],
  people: [{ id: "owner", role: "owner", address: { email: "owner@example.org" } }],
  paths: [{ id: "P1", arrays: ["A1"], signal: "message", to: ["owner"], repeatEvery: 60 }],
  proofs: [],
} as unknown as Site;

const override = (pack: string, field: string, value: number): ValueOverride => ({
  ...{ pack, field, value, because: "the island asks for it", source: "letter of 2 March" },
  ...{ by: "Ann Lee", on: "2026-11-24" },
});
const PACK = rulesUsed(SITE, [])[0]!.pack;
const used = rulesUsed(SITE, [])[0]!.values;
const threshold = used.find(({ field }) => field.startsWith("insulationThreshold"))!;
const digest = (text: string): string => text;
const standing = (...overrides: readonly ValueOverride[]) =>
  siteDigests(SITE, packsInForce([], overrides), digest);
const changed = (...overrides: readonly ValueOverride[]) => {
  const [before, now] = [standing(), standing(...overrides)];
  return SITE_PAPERS.filter((kind) => before[kind] !== now[kind]);
};

describe("what a paper of a site is made from", () => {
  it.each([
    ["a threshold that it falls under", threshold.field, ["design-record", "commissioning-record"]],
    ["the number of addresses", "alarm.leastAddresses", ["design-record"]],
  ] as const)("changes with an override of %s, for the papers that use it", (_, field, papers) => {
    expect(used.map((one) => one.field)).toContain(field);
    expect(changed(override(PACK.id, field, 77_000))).toEqual(papers);
  });

  it("changes with the reason and the source of an override, which stand on the paper", () => {
    const one = override(PACK.id, threshold.field, 77_000);
    expect(standing(one)["design-record"]).not.toBe(
      standing({ ...one, because: "another reason" })["design-record"],
    );
  });

  it("does not change with a row of the same pack that no array falls in, nor with another country's pack", () => {
    const other = overridableValues(PACK).find(
      ({ field }) => field.startsWith("insulationThreshold") && !used.some((one) => one.field === field),
    )!;
    expect(changed(override(PACK.id, other.field, 77_000))).toEqual([]);
    expect(changed(override("nz-regulations-2025", "alarm.leastAddresses", 7))).toEqual([]);
    expect(changed(override("us-nec-2023", "duty[0].when[0].atMost", 7))).toEqual([]);
  });

  it("is the same again once the override is taken back", () => {
    const packs = packsInForce([], []);
    expect(siteDigests(SITE, packs, digest)).toEqual(standing());
  });
});

describe("an override on a paper", () => {
  const overrides = [
    override(PACK.id, threshold.field, 77_000),
    override(PACK.id, "alarm.leastAddresses", 3),
  ];
  const packs = packsInForce([], overrides);
  const issue = (kind: SitePaper) =>
    issueOf(
      {
        ...{ kind, of: SITE.id, language: "en", today: "2026-11-25", version: "1" },
        input: siteInput(kind, SITE, packs),
      },
      digest,
    );
  /** The row of the table in which a figure stands. */
  const rowOf = (html: string, figure: string): string =>
    html
      .replaceAll("\u00a0", " ")
      .split("<tr>")
      .find((row) => row.includes(`<strong>${figure}</strong>`)) ?? "";
  const REASON = "overridden by Ann Lee on 2026-11-24: the island asks for it (from letter of 2 March)";

  it.each([
    ["the design record", paperHtml(designRecord(SITE, issue("design-record"), packs))],
    [
      "the commissioning record",
      paperHtml(commissioningRecord(SITE, issue("commissioning-record"), { packs })),
    ],
  ])("stands in %s beside the figure, with its reason and source", (_, html) => {
    expect(rowOf(html, "77000 Ω")).toContain(REASON);
    expect(rowOf(html, "77000 Ω")).toContain(`in place of ${threshold.value} Ω`);
  });

  it("stands beside the number that a path is held against, whether the path keeps it or not", () => {
    expect(rowOf(paperHtml(designRecord(SITE, issue("design-record"), packs)), "3 addresses")).toContain(
      REASON,
    );
  });

  it("marks each line of the register that rests on it, and no line of another country", () => {
    const elsewhere = { ...SITE, id: "loch", place: { country: "GB" } };
    const html = paperHtml(fleetRegister([SITE, elsewhere], issue("design-record"), packs));
    expect(rowOf(html, "3 addresses")).toContain(REASON);
    expect(html.match(/◆ overridden, see above/gu)?.length).toBe(2);
    const { columns, rows } = registerTable([SITE, elsewhere], "2026-11-25", packs);
    expect(columns.at(-2)?.head).toBe("overridden rule values");
    expect(rows.map((row) => row.slice(-2))).toEqual([
      [`${PACK.id} alarm.leastAddresses`, ""],
      ["", ""],
    ]);
  });

  it("that is set aside is marked in each line of the register that would rest on it", () => {
    const stale = { ...override(PACK.id, "alarm.leastAddresses", 3), replaces: 7 };
    const aside = packsInForce([], [stale]);
    const elsewhere = { ...SITE, id: "loch", place: { country: "GB" } };
    const html = paperHtml(fleetRegister([SITE, elsewhere], issue("design-record"), aside));
    expect(html).toContain("Rule values of which an override was set aside");
    expect(html.match(/◇ override set aside, see above/gu)?.length).toBe(2);
    expect(html).not.toContain("◆ overridden, see above");
    const { columns, rows } = registerTable([SITE, elsewhere], "2026-11-25", aside);
    expect(columns.at(-1)?.head).toBe("overrides set aside");
    expect(rows.map((row) => row.slice(-2))).toEqual([
      ["", `${PACK.id} alarm.leastAddresses`],
      ["", ""],
    ]);
  });
});
