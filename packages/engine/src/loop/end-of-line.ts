import { E24 } from "../limits/index.ts";
import type { Band, EndOfLine } from "./loop-design.ts";
import { resistorDerating } from "./resistor-derating.ts";

/** What the line and the resistors may do to the reading. */
export interface LineConditions {
  /** Voltage of the supervision unit [V], lowest and highest. */
  readonly lowestV: number;
  readonly highestV: number;
  /** Cable out and back, hot [Ω]. */
  readonly cableOhms: number;
  /** Tolerance of both resistors as a share; default 0.05. */
  readonly tolerance?: number;
  /** Temperature where the far resistor sits [°C]; default 70, a box in the sun (design choice). */
  readonly ambientC?: number;
  /** Leak between the cores of a wet cable, at worst [Ω]; default 100 kΩ (design choice). */
  readonly leakOhms?: number;
}

const TOLERANCE = 0.05;
const LEAK_OHMS = 100_000;
const AMBIENT_C = 70;
/** Most that watching may draw from the supply [A] (design choice: a day of it takes a tenth of a small battery). */
const WATCHING_A = 0.005;
/** A resistor is used to half of its rating. */
const DERATING = 2;
const RATINGS_W = [0.125, 0.25, 0.5, 1, 2, 5];

const parallel = (a: number, b: number): number => (a === Infinity ? b : (a * b) / (a + b));

/**
 * The voltages the supervision unit sees across the line when it is shorted, normal and open, as far apart as they can
 * lie: both resistors at either end of their tolerance, cable cold or hot, cores dry or leaking, supply low or high.
 */
export function supervisionBands(ohms: number, seriesOhms: number, line: LineConditions): readonly Band[] {
  const tolerance = line.tolerance ?? TOLERANCE;
  const leak = line.leakOhms ?? LEAK_OHMS;
  const seriesLow = seriesOhms * (1 - tolerance);
  const seriesHigh = seriesOhms * (1 + tolerance);
  const seen = (state: Band["state"], least: number, most: number): Band => ({
    state,
    lowV: (line.lowestV * least) / (least + seriesHigh),
    highV: most === Infinity ? line.highestV : (line.highestV * most) / (most + seriesLow),
  });
  return [
    seen("short", 0, line.cableOhms),
    seen("normal", parallel(ohms * (1 - tolerance), leak), ohms * (1 + tolerance) + line.cableOhms),
    seen("open", leak, Infinity),
  ];
}

/** Smallest distance between neighbouring bands [V]; negative where two overlap. */
export function smallestGap(bands: readonly Band[]): number {
  return Math.min(...bands.slice(1).map((band, i) => band.lowV - bands[i]!.highV));
}

function candidates(): readonly number[] {
  return [100, 1000, 10_000].flatMap((decade) =>
    E24.map((value) => Number(`${value}e${Math.log10(decade)}`)),
  );
}

/**
 * The E24 resistor, and a series resistor of the same value, that tell a shorted, a normal and an open line furthest
 * apart after tolerance, cable resistance and leak, drawing no more than 5 mA in the normal state.
 *
 * @returns null where no value up to 91 kΩ tells all three states apart
 * Source: Ohm's law; E24 from IEC 60063 (memory). Check: checks/loop-ngspice
 */
export function chooseEndOfLine(line: LineConditions): EndOfLine | null {
  let best: EndOfLine | null = null;
  for (const ohms of candidates()) {
    if (line.highestV / (2 * ohms) > WATCHING_A) continue;
    const bands = supervisionBands(ohms, ohms, line);
    const gapV = smallestGap(bands);
    if (gapV <= 0 || (best !== null && gapV <= best.gapV)) continue;
    best = {
      ohms,
      seriesOhms: ohms,
      watts: wattsFor(line.highestV, ohms, line.ambientC ?? AMBIENT_C),
      bands,
      gapV,
    };
  }
  return best;
}

/** Smallest usual rating of twice the heat with the whole voltage across it, as while the alarm sounds. */
function wattsFor(volts: number, ohms: number, ambientC: number): number {
  const needed = (DERATING * volts * volts) / ohms / resistorDerating(ambientC);
  return RATINGS_W.find((rating) => rating >= needed) ?? Math.ceil(needed);
}
