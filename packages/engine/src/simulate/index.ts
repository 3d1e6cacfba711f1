export * from "./random.ts";
export * from "./scenario.ts";
export { afterDrying, drawTruth, type Truth } from "./truth.ts";
export { exactReading, measure, readingWith, type MeasuredRequest } from "./measure.ts";
export * from "./blunder.ts";
export * from "./visit-of.ts";
