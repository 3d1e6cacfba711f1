export type CircuitErrorCode =
  | "CIRCUIT_VALUE_OUT_OF_RANGE"
  | "CIRCUIT_PLACE_UNKNOWN"
  | "CIRCUIT_SOURCES_CONFLICT"
  | "CIRCUIT_NODE_FLOATING"
  | "CIRCUIT_NEWTON_STALLED";

/** A circuit that cannot be computed. `code` is stable; the text says which value, and what is allowed. */
export class CircuitError extends Error {
  readonly code: CircuitErrorCode;

  constructor(code: CircuitErrorCode, message: string) {
    super(`${code}: ${message}`);
    this.name = "CircuitError";
    this.code = code;
  }
}

/** Refuses anything but a finite number within [min, max]. */
export function requireWithin(name: string, value: number, min: number, max: number, unit: string): void {
  if (value >= min && value <= max && Number.isFinite(value)) return;
  throw new CircuitError(
    "CIRCUIT_VALUE_OUT_OF_RANGE",
    `${name} is ${value} ${unit}; allowed: ${min} to ${max} ${unit}`,
  );
}
