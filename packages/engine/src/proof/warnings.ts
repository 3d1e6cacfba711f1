import { RESIDUAL_STEPS } from "../limits/residual-limit.ts";

export interface Connection {
  readonly maxVoltage: number;
  /** Highest current of the ways in which it may be made. */
  readonly milliamps: number;
  readonly atMostOhms: number;
  readonly elements: number;
  readonly permitted: boolean;
  readonly residualLimitMilliamps: number | undefined;
}

/** The smallest sudden step of residual current at which a running inverter must trip. */
const SMALLEST_STEP_MILLIAMPS = RESIDUAL_STEPS[0]!.milliamps;

/** What must be read before a test resistor is connected, the most pressing first. */
export function proofResistorWarnings(made: Connection): readonly string[] {
  const volts = Math.ceil(made.maxVoltage);
  return [
    ...residual(made),
    `Licensed persons only, under the local code and the inverter maker's instructions; where they differ from this, they win.`,
    `Up to ${volts} V direct current and ${made.milliamps.toFixed(0)} mA: this is at shock level. Nobody may touch the array, its metal or the resistor while it is connected.`,
    `Use an enclosed resistor, or ${made.elements} equal elements in series in one enclosure, rated for ${volts} V and for the watts stated; measure it first, it must not exceed ${(made.atMostOhms / 1000).toPrecision(4)} kΩ.`,
    `Connect and part it only through a switch rated for ${volts} V direct current, wired while the array is isolated and proved dead; never by a connector or by hand.`,
    `Agree a time limit, watch the clock, and part it as soon as the alarm has operated or the limit is reached. It gets hot.`,
    `The array must have no other earth fault: measure its insulation first. With two faults this resistor closes a short circuit through earth.`,
  ];
}

function residual({ permitted, milliamps, residualLimitMilliamps: limit }: Connection): readonly string[] {
  if (limit === undefined)
    return [
      `The residual-current limit of this inverter is not known: find it before anything is connected.`,
    ];
  if (!permitted)
    return [
      `Do not connect it: ${milliamps.toFixed(0)} mA exceeds the residual-current limit of ${limit.toFixed(0)} mA. Prove the alarm by the maker's own test.`,
    ];
  return milliamps >= SMALLEST_STEP_MILLIAMPS
    ? [
        `Connect it before the inverter starts, not while it feeds in: a sudden ${SMALLEST_STEP_MILLIAMPS} mA of residual current makes it trip, which proves the trip and not the insulation check. Stop if the inverter reports residual current.`,
      ]
    : [`Stop if the inverter reports residual current.`];
}
