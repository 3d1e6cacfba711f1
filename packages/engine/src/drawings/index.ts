export { type ChainInput, type ChainJoint, type ChainLink, drawChain, type LinkState } from "./chain.ts";
export { chainOfPath } from "./chain-of-path.ts";
export { drawCoverageGrid, type CoverageGridInput } from "./coverage-grid.ts";
export { type Drawing, type DrawingTable, type Mark, svgText } from "./drawing.ts";
export { drawNoticeCurve, hoursWords, type NoticeCurveInput } from "./notice-curve.ts";
export { drawStrip, type Lead, type StripInput } from "./strip.ts";
export { drawNoticeReport, drawSiteCoverage } from "./report-drawings.ts";
