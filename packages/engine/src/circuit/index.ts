export * from "./array-description.ts";
export { solveArray, type ArraySolution } from "./array-network.ts";
export { CircuitError, type CircuitErrorCode } from "./circuit-error.ts";
export { EARTH, solveNetwork, type Branch, type NetworkSolution } from "./network.ts";
export { readArray } from "./read-array.ts";
export * from "./string.ts";
export * from "./insulation-test.ts";
export * from "./r-iso.ts";
