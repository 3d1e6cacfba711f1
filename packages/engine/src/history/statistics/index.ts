export { normalBelow, normalQuantile, normalTail } from "./normal.ts";
export { median, quantile, robustSigma } from "./quantile.ts";
export { theilSen, type TheilSen, type TheilSenOptions } from "./theil-sen.ts";
export { mannKendall, serialVarianceFactor, type MannKendall } from "./mann-kendall.ts";
export { changePoints, pettitt, type Pettitt } from "./change-points.ts";
