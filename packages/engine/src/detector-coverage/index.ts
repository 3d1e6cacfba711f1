export type { CoverageArray, CoverageEarthing, DetectorKind, DetectorSet } from "./coverage-array.ts";
export {
  type Coverage,
  type CoverageMap,
  coverageMap,
  type CoverageOptions,
  type Phase,
  seenAtOnceShare,
} from "./coverage-map.ts";
export { asymmetryShare, earthCurrentA, residualCurrentA } from "./fault-current.ts";
export { type HealthyMargin, healthyMargin, type HealthyMarginInput } from "./healthy-margin.ts";
export {
  maxPowerPoint,
  moduleCurve,
  moduleCurrentA,
  type ModuleRating,
  type PowerPoint,
} from "./module-curve.ts";
export { type CoverageReport, coverageReport } from "./coverage-report.ts";
export type { SiteCoverage } from "./site-coverage.ts";
