import type { DrawingTable } from "../drawings/drawing.ts";
import { dateOfDay } from "./local-day.ts";
import { evidenceOhms } from "./ohms-text.ts";
import type { ReadHistory } from "./read-history.ts";
import { median } from "./statistics/quantile.ts";

/** The same history month by month, for readers who do not see the drawing. */
export function historyTable({ finding, mornings }: ReadHistory): DrawingTable {
  const months = new Map<string, (typeof mornings)[number][]>();
  for (const morning of mornings) {
    const month = dateOfDay(morning.day).slice(0, 7);
    const some = months.get(month) ?? [];
    some.push(morning);
    months.set(month, some);
  }
  return {
    caption: `Insulation of ${finding.array}, month by month`,
    columns: ["Month", "Mornings", "Wet", "Lowest", "Middle"],
    rows: [...months].map(([month, some]) => {
      const values = some.map(({ lowest }) => lowest);
      return [
        month,
        String(some.length),
        String(some.filter(({ wetness }) => wetness === "wet").length),
        evidenceOhms(Math.min(...values)),
        evidenceOhms(median(values)),
      ];
    }),
  };
}
