import type { Provenance, RulePack } from "@earthbell/engine";
import type { NotedLines } from "../terminal/margin.ts";
import type { Page } from "../terminal/page.ts";
import { figure, quantity } from "../terminal/quantity.ts";
import { row } from "./row.ts";

type Section = (title: string, rows: readonly NotedLines[]) => NotedLines[];

/** The tables of limits of a rule pack. */
export function limitRows(pack: RulePack, page: Page, section: Section): NotedLines[] {
  return [
    ...section("Insulation threshold", thresholdRows(pack, page)),
    ...section("Residual current at which the inverter disconnects", residualRows(pack, page)),
    ...section("Insulation test", testRows(pack, page)),
  ];
}

function thresholdRows({ insulationThreshold: table }: RulePack, page: Page): NotedLines[] {
  if (!table) return [];
  const unit = table.rating.value === "array-kilowatts" ? "kW of the array" : "kVA of the inverter";
  return [
    row("", `by ${unit}`, page, from(table.rating)),
    ...table.rows.map(({ above, atMost, ohms }) =>
      row("", `${range(above, atMost)}: ${quantity(ohms.value, "resistance")}`, page, from(ohms)),
    ),
  ];
}

function residualRows({ residual }: RulePack, page: Page): NotedLines[] {
  return (residual ?? []).flatMap(({ above, atMost, milliamps, milliampsPerKilovoltampere: perKva }) => {
    const where = `${range(above, atMost)} kVA`;
    if (milliamps) return [row("", `${where}: ${figure(milliamps.value)} mA`, page, from(milliamps))];
    return perKva ? [row("", `${where}: ${figure(perKva.value)} mA per kVA`, page, from(perKva))] : [];
  });
}

function testRows({ insulationTest }: RulePack, page: Page): NotedLines[] {
  return (insulationTest ?? []).map(({ below, atMost, testVoltage, minimumOhms }) => {
    const system =
      below !== undefined
        ? `below ${figure(below)} V`
        : atMost !== undefined
          ? `up to ${figure(atMost)} V`
          : "above";
    const value = `${quantity(testVoltage.value, "voltage")}, at least ${quantity(minimumOhms.value, "resistance")}`;
    return row("", `${system}: ${value}`, page, `${from(testVoltage)} / ${from(minimumOhms)}`);
  });
}

function range(above: number, atMost: number | undefined): string {
  const start = above === 0 ? "" : `above ${figure(above)}`;
  if (atMost === undefined) return start || "any";
  return start === "" ? `up to ${figure(atMost)}` : `${start} to ${figure(atMost)}`;
}

function from({ source, tag }: Provenance): string {
  return `${source}; ${tag}`;
}
