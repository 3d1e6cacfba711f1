export { batteryNeeded, type BatteryNeed } from "./battery-size.ts";
export { designLoop } from "./design-loop.ts";
export { drawLoop } from "./draw-loop.ts";
export { chooseEndOfLine, type LineConditions, smallestGap, supervisionBands } from "./end-of-line.ts";
export type {
  Band,
  ContactRating,
  EndOfLine,
  InterposingRelay,
  LoopChange,
  LoopDesign,
  LoopFigures,
  LoopPart,
  LoopRequest,
} from "./loop-design.ts";
export { type OperatingPoint, operatingPoint } from "./operating-point.ts";
export { resistorDerating } from "./resistor-derating.ts";
export { type LoopReport, loopReport, type PathLoop } from "./loop-report.ts";
