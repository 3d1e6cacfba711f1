import type { InputFault } from "@earthbell/model";

/** What is laid beside a file that could not be taken: every fault with its line, field, value and what is allowed. */
export function errorsText(file: string, faults: readonly InputFault[]): string {
  const head = `${file} was not taken in: ${faults.length} ${faults.length === 1 ? "fault" : "faults"}. Nothing of it is in the store.`;
  const rest = "Correct the file and lay it into the folder again; a corrected file is another file.";
  return [head, rest, "", ...faults.map(faultLine), ""].join("\n");
}

function faultLine({ code, line, column, field, value, allowed, message }: InputFault): string {
  const parts = [
    code,
    line === null ? null : `line ${line}`,
    column === null ? null : `column ${column}`,
    field === "" ? null : `field ${JSON.stringify(field)}`,
    value === null ? null : `value ${JSON.stringify(value)}`,
    allowed === "" ? null : `allowed: ${allowed}`,
    message,
  ];
  return parts
    .filter((part) => part !== null)
    .join(" | ")
    .replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, " ");
}
