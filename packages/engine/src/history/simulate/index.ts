export { CLIMATES, type Climate, type ClimateName } from "./climate.ts";
export {
  simulateHistory,
  simulateInSteps,
  type RecordStyle,
  type SimulatedHistory,
  type SimulateHistoryOptions,
} from "./simulate-history.ts";
export { SIMULATED_TROUBLES, type SimulatedArray, type SimulatedTrouble } from "./trouble.ts";
