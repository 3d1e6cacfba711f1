import writeXlsxFile, { type SheetData } from "write-excel-file/universal";
import { fixZipTimes } from "./zip-times.ts";
import type { SheetTable } from "./sheet-table.ts";

/** A table as an XLSX workbook, days as days; the same table gives the same bytes. */
export async function sheetXlsx({ name, columns, rows }: SheetTable): Promise<Uint8Array> {
  const heads = columns.map(({ head }) => ({ value: head, type: String, fontWeight: "bold" as const }));
  const data: SheetData = [
    heads,
    ...rows.map((cells) =>
      cells.map((text, column) => {
        if (text === "") return null;
        if (columns[column]!.kind !== "day") return { value: text, type: String };
        return { value: new Date(`${text}T00:00:00Z`), type: Date, format: "yyyy-mm-dd" };
      }),
    ),
  ];
  const blob = await writeXlsxFile(data, {
    sheet: name,
    columns: columns.map(({ width }) => ({ width })),
    stickyRowsCount: 1,
  }).toBlob();
  return fixZipTimes(new Uint8Array(await blob.arrayBuffer()));
}
