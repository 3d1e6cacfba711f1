import {
  type Amperes,
  type Ohms,
  parseQuantity,
  type Reading,
  type RequestedReading,
  type Volts,
} from "@earthbell/engine";
import { withDecimalPoint } from "../page/typed-number.ts";

type Dimension = "voltage" | "resistance" | "current";

const UNITS: Readonly<Record<Dimension, readonly string[]>> = {
  voltage: ["V", "mV"],
  resistance: ["MΩ", "kΩ", "GΩ", "Ω"],
  current: ["mA", "µA", "A"],
};

/** What a requested reading is measured in, the likeliest unit first. */
export function unitsFor(request: RequestedReading): readonly string[] {
  return UNITS[dimensionOf(request)];
}

function dimensionOf({ circuit, testVoltage }: RequestedReading): Dimension {
  if (circuit !== undefined) return "current";
  return testVoltage === undefined ? "voltage" : "resistance";
}

/** What stands in a field of a positive figure after somebody typed: empty, or what may become one. A comma is a decimal point. */
export function figureTyped(typed: string, before: string): string {
  const written = typed.replace(",", ".");
  return /^(?:\d{1,5}(?:\.\d{0,2})?)?$/u.test(written) ? written : before;
}

export type Entered =
  | { readonly ok: true; readonly reading: Reading }
  | { readonly ok: false; readonly message: string };

/** More than any array gives; a slipped decimal point is asked about before it is taken. */
const MOST_VOLTS = 3000;

/**
 * The reading that a person typed, or what is wrong with it in one sentence.
 *
 * The size counts, not the sign.
 */
export function enteredReading(request: RequestedReading, text: string, unit: string): Entered {
  const written = withDecimalPoint(text);
  const whole = /[a-zΩµ]/iu.test(written) ? written : `${written} ${unit}`;
  const dimension = dimensionOf(request);
  if (text.trim() === "") return { ok: false, message: "Enter what the instrument shows." };
  const parsed = parseQuantity(whole, dimension);
  if (!parsed.ok) return { ok: false, message: parsed.problem.message };
  const size = Math.abs(parsed.value);
  if (dimension === "voltage" && size > MOST_VOLTS)
    return {
      ok: false,
      message: `${whole} is more than an array gives. Check the decimal point and the unit.`,
    };
  return { ok: true, reading: readingOf(request, size) };
}

function readingOf(request: RequestedReading, size: number): Reading {
  const { on, from, to, segment, isolated, circuit, testVoltage } = request;
  const base = {
    with: request.with,
    on,
    ...(segment === undefined ? {} : { segment }),
    ...(isolated === undefined ? {} : { isolated }),
  };
  const shunt = request.shunt === undefined ? undefined : quantity(request.shunt, "resistance");
  if (circuit !== undefined)
    return {
      ...base,
      kind: "leakage",
      circuit,
      from,
      to: "earth",
      shunt: (shunt ?? 0) as Ohms,
      value: size as Amperes,
    };
  if (testVoltage !== undefined)
    return {
      ...base,
      kind: "insulation",
      from,
      to: "earth",
      testVoltage: quantity(testVoltage, "voltage") as Volts,
      value: size as Ohms,
    };
  return {
    ...base,
    kind: "voltage",
    from,
    to,
    ...(shunt === undefined ? {} : { shunt: shunt as Ohms }),
    value: size as Volts,
  };
}

function quantity(text: string, dimension: "resistance" | "voltage"): number {
  const parsed = parseQuantity(text, dimension);
  if (!parsed.ok) throw new Error(parsed.problem.message);
  return parsed.value;
}

const pole = (terminal: string): string => (terminal === "-" ? "−" : terminal);

/** What to touch with what, in words. */
export function requestWords({
  on,
  from,
  to,
  segment,
  shunt,
  testVoltage,
  circuit,
  isolated,
}: RequestedReading): string {
  const where = segment === undefined ? on : `${on}, modules ${segment[0] + 1} to ${segment[1]}`;
  const off = isolated === undefined || isolated.length === 0 ? "" : ` without ${isolated.join(", ")}`;
  if (circuit !== undefined)
    return `Clamp around both conductors of ${on}, ${pole(from)} of ${circuit} led to earth through ${shunt ?? ""}`;
  if (testVoltage !== undefined)
    return `${where}${off}: tester from ${pole(from)} to earth at ${testVoltage}`;
  const across = shunt === undefined ? "" : `, ${shunt} across the meter`;
  return `${where}${off}: ${pole(from)} to ${pole(to)}${across}`;
}

/** Nodes of a string that a reading touches, counted in modules from the negative end. */
export function nodesOf(
  reading: { readonly from: string; readonly to: string; readonly segment?: readonly [number, number] },
  modules: number,
): readonly number[] {
  const [low, high] = reading.segment ?? [0, modules];
  const node = (terminal: string): number[] =>
    terminal === "+" ? [high] : terminal === "-" ? [low] : terminal === "shorted" ? [low, high] : [];
  return [...new Set([...node(reading.from), ...node(reading.to)])];
}
