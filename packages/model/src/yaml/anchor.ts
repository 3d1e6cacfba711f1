import { endsIndicator, isFlowIndicator } from "./characters.ts";
import type { Reading } from "./reading.ts";

/** Reads the name behind & or *. */
export function readAnchorName(reading: Reading): string {
  const start = ++reading.pos;
  while (!endsIndicator(reading.peek()) && !isFlowIndicator(reading.peek())) reading.pos++;
  if (reading.pos === start)
    reading.stop("A name must follow & or *; put the text in quotes if it is meant as text.");
  return reading.text.slice(start, reading.pos);
}

export function refuseTag(reading: Reading): void {
  if (reading.peek() === 33)
    reading.stop("Tags (!) are not read; put the text in quotes if it is meant as text.");
}

/** After an anchor, neither another anchor nor an alias. */
export function refuseAnchor(reading: Reading): void {
  const code = reading.peek();
  if (code === 38 || code === 42) reading.stop("A value has one anchor, and an alias has none.");
}
