import { describeReading, type Finding, type Reading, type Visit } from "@earthbell/engine";
import type { Table } from "../../content/paper.ts";

/** A reading of a report; taken: by whom and when, where the records say it. */
interface ReadingRow {
  readonly reading: Reading;
  readonly taken?: string;
}

/** Every reading in the order taken, with what the finder says against it. */
export function readingsTable(readings: readonly ReadingRow[], finding: Finding | null): Table {
  const named = readings.some(({ taken }) => taken !== undefined);
  return {
    kind: "table",
    caption: "In the order in which they were taken",
    columns: [
      { head: "No.", share: 0.07 },
      { head: "Reading", share: named ? 0.36 : 0.48 },
      { head: "Instrument", share: 0.15 },
      ...(named ? [{ head: "Who and when", share: 0.22 }] : []),
      { head: "Doubt", share: named ? 0.2 : 0.3 },
    ],
    rows: readings.map(({ reading, taken }, index) => [
      String(index + 1),
      describeReading(reading),
      reading.with,
      ...(named ? [taken ?? ""] : []),
      (finding?.suspect ?? [])
        .filter((one) => one.reading === index)
        .map(({ blunder, settle }) => `◆ ${blunder}. ${settle}`)
        .join(" "),
    ]),
  };
}

/** Size of what was read, and the weather. */
export function conditionWords({ conditions, strings, circuits }: Visit): string {
  const weather =
    conditions.wet === undefined ? "whether it was wet is not stated" : conditions.wet ? "wet" : "dry";
  const size = `${strings.length} ${strings.length === 1 ? "string" : "strings"}${circuits.length === 0 ? "" : ` on ${circuits.length} ${circuits.length === 1 ? "circuit" : "circuits"}`}`;
  return `${size}; ${weather}${conditions.underLoad === true ? "; read under load" : ""}.`;
}
