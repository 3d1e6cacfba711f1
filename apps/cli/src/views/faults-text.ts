import type { InputFault } from "@earthbell/model";
import { catalogue } from "../catalogue/catalogue.ts";
import type { Page } from "../terminal/page.ts";
import { printable } from "../terminal/printable.ts";
import { padEnd, wrap } from "../terminal/wrap.ts";

/**
 * Faults of one input for a person: where, what was found, what is allowed, the code, and what to do. The first line of
 * each is `file:line:column: message`, the form that editors jump to.
 */
export function faultsText(unsafe: readonly InputFault[], page: Page): string[] {
  const faults = printable(unsafe);
  const count = faults.length === 1 ? "1 fault" : `${faults.length} faults`;
  const first = faults[0];
  if (!first) return [];
  return [
    ...faults.flatMap((fault) => faultText(fault, page)),
    ...wrap(`${count} in ${first.file}. More about a code: earthbell explain ${first.code}`, page.width),
  ];
}

function faultText(
  { file, line, column, field, value, allowed, message, code }: InputFault,
  page: Page,
): string[] {
  const place = [file, line, column].filter((part) => part !== null && part !== "").join(":");
  const remedy = catalogue.find((entry) => entry.code === code)?.next;
  return [
    ...wrap(`${place}: ${message}`, page.width),
    ...detail("field", field, page),
    ...detail("value", value ?? "", page),
    ...detail("allowed", allowed, page),
    ...detail("code", code, page),
    ...detail("do", remedy ?? "", page),
  ];
}

function detail(label: string, text: string, page: Page): string[] {
  if (text === "") return [];
  return wrap(text, page.width - 11).map(
    (line, index) => `  ${padEnd(index === 0 ? label : "", 7)}  ${line}`,
  );
}

/** The same for programs: what stands in the place of a result. */
export function errorRecord(faults: readonly InputFault[]): {
  readonly error: { readonly message: string; readonly faults: readonly InputFault[] };
} {
  const [first] = faults;
  const more = faults.length > 1 ? ` (and ${faults.length - 1} more)` : "";
  return { error: { message: `${first?.message ?? ""}${more}`, faults } };
}
