import { formatQuantity, type Reading } from "@earthbell/engine";

/** What the instrument showed, with its unit. */
export function readingValue(reading: Reading): string {
  const digits = { significant: 5 } as const;
  if (reading.kind === "voltage") return formatQuantity(reading.value, "voltage", digits);
  if (reading.kind === "leakage") return formatQuantity(reading.value, "current", digits);
  return formatQuantity(reading.value, "resistance", digits);
}

const pole = (terminal: string): string => (terminal === "-" ? "−" : terminal);

/** Between what it was read, and through what. */
export function readingPlace(reading: Reading): string {
  const { on, segment, isolated, from, to } = reading;
  const part = segment === undefined ? on : `${on}, modules ${segment[0] + 1} to ${segment[1]}`;
  const off = isolated === undefined || isolated.length === 0 ? "" : ` without ${isolated.join(", ")}`;
  const across =
    reading.kind === "insulation" || reading.shunt === undefined
      ? ""
      : `, ${formatQuantity(reading.shunt, "resistance")}`;
  return `${part}${off}: ${pole(from)} to ${pole(to)}${across}`;
}
