export { type ArrayVoltage, arrayVoltage } from "./array-voltage.ts";
export {
  CONDUCTORS,
  type ConductorKind,
  conductorKind,
  conductorResistancePerMetre,
  COPPER_PER_KELVIN,
} from "./conductor.ts";
export { healthyFloor, WET_LEAKAGE_FLOOR } from "./healthy-floor.ts";
export {
  INSULATION_TEST_ROWS,
  type InsulationTest,
  insulationTest,
  insulationTestForSystem,
  SYSTEM_VOLTAGE_FACTOR,
} from "./insulation-test.ts";
export {
  type MaxVoltage,
  maxArrayVoltage,
  type MaxVoltageResult,
  VOLTAGE_DIGITS,
  voltageText,
} from "./max-voltage.ts";
export { E12, E24, preferredAtLeast, preferredAtMost } from "./preferred-values.ts";
export {
  leakInsulation,
  RESIDUAL_CONTINUOUS_SECONDS,
  RESIDUAL_LIMITS,
  RESIDUAL_STEPS,
  type ResidualLimit,
  residualLimit,
} from "./residual-limit.ts";
export { TEMPERATURE_FACTORS, temperatureFactor, type TemperatureFactorRow } from "./temperature-factor.ts";
export { insulationReferredTo } from "./temperature-trend.ts";
export { insulationThreshold, type Threshold, thresholdAt } from "./threshold.ts";
