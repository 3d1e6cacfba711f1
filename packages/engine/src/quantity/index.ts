export type * from "./brands.ts";
export { acceptedUnits, DIMENSIONS, type Dimension, type QuantityOf } from "./dimension.ts";
export { formatQuantity, type FormatOptions } from "./format-quantity.ts";
export { quantityPattern } from "./quantity-pattern.ts";
export {
  parseQuantity,
  type ParseOptions,
  type QuantityCode,
  type QuantityProblem,
  type QuantityResult,
} from "./parse-quantity.ts";
export {
  formatTemperatureCoefficient,
  parseTemperatureCoefficient,
  type TemperatureCoefficient,
} from "./temperature-coefficient.ts";
export { holdUnits, isUnit } from "./unit-spelling.ts";
