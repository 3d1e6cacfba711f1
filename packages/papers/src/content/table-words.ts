/** A drawing's table read out in one sentence, for somebody who cannot see the drawing. */
export function tableWords(table: {
  readonly caption: string;
  readonly rows: readonly (readonly string[])[];
}): string {
  const read = table.rows.slice(0, 40).map((row) => row.filter((cell) => cell !== "").join(", "));
  return `${table.caption}: ${read.join("; ")}.`;
}
