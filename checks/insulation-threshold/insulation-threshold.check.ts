import { BUILT_IN_PACKS, thresholdAt } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

const packs = BUILT_IN_PACKS.flatMap((pack) =>
  pack.insulationThreshold === undefined ? [] : [{ id: pack.id, table: pack.insulationThreshold }],
);

describe("IEC 62548 / AS/NZS 5033, threshold by rating", () => {
  it("is in the packs that come from this family of standards", () => {
    expect(packs.map(({ id }) => id)).toEqual(
      expect.arrayContaining(["au-nz-5033-2014", "au-nz-5033-2021", "iec-62548-2016", "iec-62548-1-2023"]),
    );
  });

  it.each(packs.flatMap(({ id, table }) => cases.edges.map((edge) => ({ id, table, ...edge }))))(
    "$id: $kilowatts kW, $kiloohms kΩ",
    ({ table, kilowatts, kiloohms }) => {
      expect(thresholdAt(table, kilowatts)?.value).toBe(kiloohms * 1000);
    },
  );

  it("a 20 kVA array of the 2014 edition: 30 kΩ", () => {
    const table = packs.find(({ id }) => id === "au-nz-5033-2014")!.table;
    expect(thresholdAt(table, 20)?.value).toBe(30_000);
  });
});
