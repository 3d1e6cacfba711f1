import {
  acceptedUnits,
  parseQuantity,
  parseTemperatureCoefficient,
  quantityPattern,
  type Dimension,
  type ParseOptions,
  type QuantityOf,
  type QuantityResult,
  type TemperatureCoefficient,
} from "@earthbell/engine";
import * as z from "zod";
import { refuse, type Refusal } from "./refusal.ts";

/** Ends of a range, written as quantities so that they print as they are read: {from: "1 V", to: "1500 V"}. Both included. */
export interface QuantityRange {
  readonly from: string;
  readonly to: string;
  /** The range is of the size, and either sign is taken. */
  readonly anySign?: true;
}

export type BareNumber = NonNullable<ParseOptions["bareNumber"]>;

type QuantityReader<Value> = (written: string | number) => QuantityResult<Value> | Outside;
interface Outside {
  readonly ok: false;
  readonly problem: Refusal;
}

/** A reader of one dimension within a range; the range is part of what it says is allowed. */
export function quantityReader<D extends Dimension>(
  dimension: D,
  range: QuantityRange,
  bareNumber: BareNumber,
): QuantityReader<QuantityOf[D]> & { readonly allowed: string } {
  const least = limit(range.from, dimension);
  const most = limit(range.to, dimension);
  const sign = range.anySign ? ", with either sign" : "";
  const allowed = `${acceptedUnits(dimension)}, from ${range.from} to ${range.to}${sign}`;
  const read = (written: string | number): QuantityResult<QuantityOf[D]> | Outside => {
    const result = parseQuantity(String(written), dimension, { bareNumber });
    if (!result.ok) return { ok: false, problem: { ...result.problem, allowed } };
    const size = range.anySign ? Math.abs(result.value) : result.value;
    if (size >= least && size <= most) return result;
    const message = `${String(written)} is outside ${range.from} to ${range.to}.`;
    return { ok: false, problem: { code: "QUANTITY_OUT_OF_RANGE", allowed, message } };
  };
  return Object.assign(read, { allowed });
}

function limit(text: string, dimension: Dimension): number {
  const result = parseQuantity(text, dimension);
  if (!result.ok) throw new Error(`The limit ${text} is not ${acceptedUnits(dimension)}`);
  return result.value;
}

/** Builders of quantity fields for one format: whether a bare number is in the base unit is the format's choice. */
export function quantityFields(bareNumber: BareNumber) {
  return {
    quantity: <D extends Dimension>(dimension: D, range: QuantityRange) => {
      const read = quantityReader(dimension, range, bareNumber);
      const pattern = quantityPattern(dimension, { bareNumber });
      return field(
        read,
        { description: read.allowed, pattern },
        bareNumber === "base unit" || dimension === "ratio",
      );
    },
  };
}

/** What editors are told about a quantity. */
interface Description {
  readonly description: string;
  readonly pattern: string;
}

function field<Value>(read: QuantityReader<Value>, described: Description, numbersToo: boolean) {
  const written = z.union([z.string(), z.number()], { error: described.description });
  return written
    .meta(numbersToo ? { ...described } : { ...described, type: "string" })
    .transform((input, context): Value => {
      const result = read(input);
      if (result.ok) return result.value;
      refuse(context, input, result.problem);
      return z.NEVER;
    });
}

/** A temperature coefficient of voltage, relative within ±2 %/K or absolute within ±5 V/K. */
export function temperatureCoefficient() {
  const allowed = "a temperature coefficient in %/K, from -2 %/K to 2 %/K, or in mV/K, from -5 V/K to 5 V/K";
  const read = (written: string | number): QuantityResult<TemperatureCoefficient> | Outside => {
    const result = parseTemperatureCoefficient(String(written));
    if (!result.ok) return { ok: false, problem: { ...result.problem, allowed } };
    const { value } = result;
    const share =
      value.kind === "relative" ? Math.abs(value.perKelvin) / 0.02 : Math.abs(value.voltsPerKelvin) / 5;
    if (share <= 1) return result;
    const message = `${String(written)} is more than any module has.`;
    return { ok: false, problem: { code: "QUANTITY_OUT_OF_RANGE", allowed, message } };
  };
  const patterns = [
    quantityPattern("relative temperature coefficient"),
    quantityPattern("absolute temperature coefficient"),
  ];
  return field(read, { description: allowed, pattern: patterns.join("|") }, false);
}
