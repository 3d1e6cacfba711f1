import { describeReading, type Finding, type Visit } from "@earthbell/engine";
import type { Table } from "../../content/paper.ts";

/** Every reading in the order taken, with what the finder says against it. */
export function readingsTable(visit: Visit, { suspect }: Finding): Table {
  return {
    kind: "table",
    caption: "In the order in which they were taken",
    columns: [
      { head: "No.", share: 0.07 },
      { head: "Reading", share: 0.48 },
      { head: "Instrument", share: 0.15 },
      { head: "Doubt", share: 0.3 },
    ],
    rows: visit.readings.map((reading, index) => [
      String(index + 1),
      describeReading(reading),
      reading.with,
      suspect
        .filter((one) => one.reading === index)
        .map(({ blunder, settle }) => `◆ ${blunder}. ${settle}`)
        .join(" "),
    ]),
  };
}
