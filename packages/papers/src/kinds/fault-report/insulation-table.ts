import type { Finding } from "@earthbell/engine";
import type { Table } from "../../content/paper.ts";
import { rangeWords } from "./finding-section.ts";

type Found = Pick<Finding, "insulation">;

/** The insulation of each string as the readings before the repair and those after it say, and a line for the tester. */
export function insulationTable(before: Found | null, after: Found | null): Table {
  const strings = [
    ...new Set([...(before?.insulation ?? []), ...(after?.insulation ?? [])].map(({ string }) => string)),
  ];
  const said = (found: Found | null, id: string): string => {
    const one = found?.insulation.find(({ string }) => string === id);
    return one === undefined ? "" : rangeWords(one);
  };
  return {
    kind: "table",
    caption:
      "From the readings of each visit, middle and 90 % interval; computed. Last line: insulation tester, by hand",
    toWrite: true,
    columns: [
      { head: "String", share: 0.2 },
      { head: "Before", share: 0.4 },
      { head: "After", share: 0.4 },
    ],
    rows: [...strings.map((id) => [id, said(before, id), said(after, id)]), ["Tester at        V", "", ""]],
  };
}
