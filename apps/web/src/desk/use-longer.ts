import { useState } from "react";
import type { DeskFault } from "./ask-desk.ts";
import type { HappeningKind } from "./live.ts";
import { useAnswer } from "./use-answer.ts";

/** Rows at first, and how many more each time. */
const PORTION = 100;
/** The desk names no more in one answer. */
const MOST = 1000;

interface LongList<Value> {
  readonly value: Value | undefined;
  readonly fault: DeskFault | null;
  readonly again: () => void;
  /** Rows that were asked for. */
  readonly rows: number;
  /** Asks for more of them; null where the desk names no more. */
  readonly longer: (() => void) | null;
}

/**
 * A long list of the desk, a portion more each time it is asked for. What is shown stays until the longer one has come.
 *
 * @param pathOf  address of so many rows; null asks nothing
 */
export function useLonger<Value>(
  pathOf: (rows: number) => string | null,
  on: readonly HappeningKind[],
): LongList<Value> {
  const [rows, setRows] = useState(PORTION);
  const { value, fault, again } = useAnswer<Value>(pathOf(rows), on);
  const [held, setHeld] = useState<Value>();
  if (value !== undefined && value !== held) setHeld(value);
  return {
    value: value ?? held,
    fault,
    again,
    rows,
    longer:
      rows < MOST
        ? () => {
            setRows(rows + PORTION);
          }
        : null,
  };
}
