/** A table for spreadsheets; days are YYYY-MM-DD, or empty. */
export interface SheetTable {
  readonly name: string;
  readonly columns: readonly {
    readonly head: string;
    readonly width: number;
    readonly kind: "text" | "day";
  }[];
  readonly rows: readonly (readonly string[])[];
}
