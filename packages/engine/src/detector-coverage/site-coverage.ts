import type { ArrayAssessment, Reason } from "../assess/assessment.ts";
import type { Inverter, ModuleType, PvArray } from "../assess/site.ts";
import { DETECTOR_TOLERANCE } from "../proof/proof-resistor.ts";
import type { SquareMetres } from "../quantity/index.ts";
import type { CoverageArray, CoverageEarthing, DetectorSet } from "./coverage-array.ts";
import { type CoverageMap, coverageMap } from "./coverage-map.ts";
import { type HealthyMargin, healthyMargin } from "./healthy-margin.ts";
import { maxPowerPoint, moduleCurve } from "./module-curve.ts";

/** Coverage of one array as its site file states it. */
export interface SiteCoverage {
  readonly array: string;
  /** null where the map cannot be worked out; `missing` says why. */
  readonly map: CoverageMap | null;
  /** Detectors in the words of the trade, each with the figure it was mapped with. */
  readonly detectors: readonly string[];
  readonly healthy: HealthyMargin | null;
  /** Fields of the site file that would make the map or the margin known. */
  readonly missing: readonly string[];
  /** What the map takes for granted. */
  readonly assumed: readonly Reason[];
}

export interface SiteCoverageInput {
  readonly array: PvArray;
  readonly module: ModuleType;
  readonly inverter: Inverter;
  /** What the rules say of the array, as far as it is known. */
  readonly assessment: Pick<ArrayAssessment, "insulationThreshold" | "residualLimit" | "areaM2">;
}

/** Voltage at the working point over that at open circuit. */
const RUNNING_SHARE = 0.82;
/** Of an earthed array, where the site file has no field for it. */
const EARTH_OHMS = 0.5;
const LEAD_OHMS = 0.1;
const ours = { source: "default of this program", tag: "design choice" } as const;

interface Watching {
  readonly set: DetectorSet;
  readonly words: readonly string[];
  readonly missing: readonly string[];
}

function insulationOf({ array, inverter, assessment }: SiteCoverageInput): Watching {
  const check = inverter.insulationCheck;
  if (check === undefined)
    return { set: {}, words: [], missing: [`inverters ${inverter.id}: insulationCheck`] };
  if (check.at.length === 0 || array.earthing === "solid") return { set: {}, words: [], missing: [] };
  const thresholdOhms = check.threshold ?? assessment.insulationThreshold?.ohms;
  if (thresholdOhms === undefined)
    return { set: {}, words: [], missing: [`inverters ${inverter.id}: insulationCheck.threshold`] };
  const insulation = { thresholdOhms, at: check.at, tolerance: DETECTOR_TOLERANCE.value };
  const when = check.at.map((at) => (at === "start" ? "at start" : "all day")).join(" and ");
  return {
    set: { insulation },
    words: [`insulation check ${when}, at ${thresholdOhms / 1000} kΩ`],
    missing: [],
  };
}

/** Its continuous limit counts, not the smaller sudden steps: a fault that grows slowly is only seen there. */
function residualOf({ array, inverter, assessment }: SiteCoverageInput): Watching {
  if (inverter.residualMonitor === undefined)
    return { set: {}, words: [], missing: [`inverters ${inverter.id}: residualMonitor`] };
  const limit = assessment.residualLimit?.continuousMilliamps;
  if (!inverter.residualMonitor || array.earthing !== "floating" || limit === undefined)
    return { set: {}, words: [], missing: [] };
  return {
    set: { residual: { tripA: limit / 1000 } },
    words: [`residual-current monitor, at ${limit} mA`],
    missing: [],
  };
}

function interrupterOf({ array, inverter }: SiteCoverageInput): Watching {
  if (array.earthing === "floating" || inverter.earthFaultInterrupter === undefined)
    return { set: {}, words: [], missing: [] };
  const ratedA = inverter.earthFaultInterrupter.rating;
  if (ratedA === undefined)
    return { set: {}, words: [], missing: [`inverters ${inverter.id}: earthFaultInterrupter.rating`] };
  return {
    set: { interrupter: { ratedA } },
    words: [`interrupter in the earth connection, at ${ratedA} A`],
    missing: [],
  };
}

/** null: the short-circuit current is needed and not stated. */
function earthingOf({ array, module }: SiteCoverageInput): CoverageEarthing | null {
  if (array.earthing === undefined || array.earthing === "floating") return { kind: "floating" };
  if (module.isc === undefined) return null;
  const curve = moduleCurve({
    openCircuitV: module.voc,
    shortCircuitA: module.isc,
    maxPowerW: module.pmax,
  });
  const point = maxPowerPoint(curve, module.voc);
  return {
    kind: array.earthing,
    pole: "-",
    ohms: EARTH_OHMS,
    module: curve,
    leadOhms: LEAD_OHMS,
    loadOhms: (longest(array) * point.volts) / (array.strings.length * point.amperes),
  };
}

const longest = ({ strings }: PvArray): number => Math.max(...strings.map(({ modules }) => modules));

function assumptions({ array }: SiteCoverageInput, { insulation }: DetectorSet): readonly Reason[] {
  const unequal = new Set(array.strings.map(({ modules }) => modules)).size > 1;
  return [
    { text: `while running, a module gives ${RUNNING_SHARE} of its open-circuit voltage`, ...ours },
    ...(insulation === undefined
      ? []
      : [
          {
            text: `the insulation check sees a fault from ${DETECTOR_TOLERANCE.value * 100} % under its threshold only`,
            source: DETECTOR_TOLERANCE.source,
            tag: DETECTOR_TOLERANCE.tag,
          },
        ]),
    { text: "the sound part of the array does not leak", ...ours },
    ...(unequal ? [{ text: "every string is as long as the longest", ...ours }] : []),
    ...(array.earthing === "functional" || array.earthing === "solid"
      ? [
          {
            text: `the negative pole is the earthed one, through ${EARTH_OHMS} Ω, with ${LEAD_OHMS} Ω of conductor from each string`,
            ...ours,
          },
        ]
      : []),
  ];
}

function marginOf({ assessment, array, module }: SiteCoverageInput, set: DetectorSet): HealthyMargin | null {
  const thresholdOhms = set.insulation?.thresholdOhms ?? assessment.insulationThreshold?.ohms;
  if (assessment.areaM2 === null || thresholdOhms === undefined) return null;
  const tolerance = set.insulation?.tolerance;
  return healthyMargin({
    area: assessment.areaM2 as SquareMetres,
    thresholdOhms,
    ...(tolerance === undefined ? {} : { tolerance }),
    ...(set.interrupter === undefined
      ? {}
      : { interrupter: { arrayV: longest(array) * module.voc, ratedA: set.interrupter.ratedA } }),
  });
}

/**
 * The coverage map of an array as the site file states its detectors, and the margin of its healthy floor.
 *
 * A detector that the file does not state is not there, and is named as missing. Nothing is mapped for an array with
 * power electronics in its strings, or whose earthing is not stated.
 * Check: see coverageMap and healthyMargin
 */
export function siteCoverage(input: SiteCoverageInput): SiteCoverage {
  const { array, module, inverter } = input;
  const watching = [insulationOf(input), residualOf(input), interrupterOf(input)];
  const set: DetectorSet = Object.assign({}, ...watching.map((one) => one.set)) as DetectorSet;
  const earthing = earthingOf(input);
  const electronics =
    inverter.kind === "microinverter" || inverter.kind === "ac-module" || inverter.kind === "dc-dc";
  const described: CoverageArray | null =
    earthing === null || electronics || array.earthing === undefined
      ? null
      : {
          modulesPerString: longest(array),
          strings: array.strings.length,
          moduleOpenV: module.voc,
          moduleRunningV: RUNNING_SHARE * module.voc,
          earthing,
        };
  return {
    array: array.id,
    map: described === null ? null : coverageMap(described, set),
    detectors: watching.flatMap(({ words }) => words),
    healthy: marginOf(input, set),
    missing: [
      ...(electronics
        ? [`the data of the electronics in the strings of ${array.id}, which decide what is seen`]
        : []),
      ...(array.earthing === undefined ? [`arrays ${array.id}: earthing`] : []),
      ...(earthing === null ? [`modules ${module.id}: isc`] : []),
      ...(input.assessment.areaM2 === null ? [`modules ${module.id}: area`] : []),
      ...watching.flatMap(({ missing }) => missing),
    ],
    assumed: described === null ? [] : assumptions(input, set),
  };
}
