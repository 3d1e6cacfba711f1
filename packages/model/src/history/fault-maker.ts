import type { InputFault } from "../faults/input-fault.ts";
import { shownValue } from "../fields/field-fault.ts";
import type { HistoryFaultCode } from "./history-codes.ts";

/** Makes a fault of one file. */
export type FaultMaker = (
  code: HistoryFaultCode,
  line: number | null,
  field: string,
  value: string | null,
  allowed: string,
  message: string,
  column?: number | null,
) => InputFault;

export function faultMaker(file: string): FaultMaker {
  return (code, line, field, value, allowed, message, column = null) => ({
    code,
    file,
    line,
    column,
    field,
    value: shownValue(value),
    allowed,
    message,
  });
}
