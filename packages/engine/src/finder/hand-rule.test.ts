import { describe, expect, it } from "vitest";
import { handRules } from "./hand-rule.ts";
import { locate } from "./locate.ts";
import { visitTo, volts } from "./simulated-visit.fixture.ts";

/**
 * The trade's worked rows: place = modules · |V−| / (|V+| + |V−|), R = R_m · sum / (V − sum), meter 10 MΩ.
 * Source: the proportional rule and the voltmeter method as used by the trade, arithmetic by hand [computed].
 */
const ROWS = [
  { name: "a hard fault", modules: 20, across: 800, plus: 280, minus: 520, at: 13, ohms: null },
  { name: "a soft leak", modules: 20, across: 800, plus: 210, minus: 390, at: 13, ohms: 10e6 * (200 / 600) },
  { name: "a fault at the positive end", modules: 15, across: 600, plus: 0, minus: 600, at: 15, ohms: null },
  { name: "a string that floats", modules: 20, across: 800, plus: 16, minus: 24, at: null, ohms: 190e6 },
] as const;

const visitOfRow = ({ modules, across, plus, minus }: (typeof ROWS)[number]) =>
  visitTo(modules, [volts("+", "-", across), volts("+", "earth", plus), volts("-", "earth", minus)]);

describe("the trade's proportional rule", () => {
  it.each(ROWS.map((row) => [row.name, row] as const))("on %s gives its worked place", (_, row) => {
    const [rule] = handRules(visitOfRow(row));
    if (row.at === null) expect(rule!.at).toBeNull();
    else expect(rule!.at).toBeCloseTo(row.at, 9);
    expect(rule!.why).not.toBe("");
  });

  it.each([
    ["nothing without both poles", [volts("+", "-", 800), volts("+", "earth", 280)], []],
    [
      "nothing from readings over a shunt",
      [volts("+", "earth", 9, { shunt: 1e5 as never }), volts("-", "earth", 9)],
      [],
    ],
    ["nothing from a segment", [volts("+", "earth", 9, { segment: [0, 5] }), volts("-", "earth", 9)], []],
    ["no place when both poles read zero", [volts("+", "earth", 0), volts("-", "earth", 0)], [null]],
    [
      "a place without + to −, as the rule does not use it",
      [volts("+", "earth", 30), volts("-", "earth", 10)],
      [5],
    ],
  ])("gives %s", (_, readings, expected) => {
    expect(handRules(visitTo(20, readings)).map(({ at }) => at)).toEqual(expected);
  });
});

describe("the finder on the same rows", () => {
  it.each(ROWS.filter((row) => row.ohms !== null).map((row) => [row.name, row] as const))(
    "measures the insulation of %s as the voltmeter method does",
    (_, row) => {
      const [insulation] = locate(visitOfRow(row)).insulation;
      expect(insulation!.low).toBeLessThan(row.ohms);
      expect(insulation!.high).toBeGreaterThan(row.ohms);
    },
  );

  it("names the junction of the hard fault and the end of the end fault", () => {
    const [hard, atEnd] = [locate(visitOfRow(ROWS[0])), locate(visitOfRow(ROWS[2]))];
    expect([hard.verdict, atEnd.verdict]).toEqual(["located", "located"]);
    expect([hard.places[0]?.at, atEnd.places[0]?.at]).toEqual([13, 15]);
  });

  it("claims no place on the floating string", () => {
    expect(["no-fault", "cannot-tell"]).toContain(locate(visitOfRow(ROWS[3])).verdict);
  });
});
