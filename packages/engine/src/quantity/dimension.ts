import type {
  AmpereHours,
  Amperes,
  Candela,
  CandelaPerSquareMetre,
  Celsius,
  DecibelsA,
  Farads,
  Hertz,
  Lux,
  Metres,
  Minutes,
  OhmSquareMetres,
  Ohms,
  PerKelvin,
  Ratio,
  SquareMetres,
  SquareMillimetres,
  VoltAmperes,
  Volts,
  VoltsPerKelvin,
  Watts,
} from "./brands.ts";

/** The brand of each dimension: what `parseQuantity` of that dimension gives. */
export interface QuantityOf {
  voltage: Volts;
  current: Amperes;
  resistance: Ohms;
  "real power": Watts;
  "apparent power": VoltAmperes;
  length: Metres;
  area: SquareMetres;
  "cross-section": SquareMillimetres;
  temperature: Celsius;
  "relative temperature coefficient": PerKelvin;
  "absolute temperature coefficient": VoltsPerKelvin;
  duration: Minutes;
  ratio: Ratio;
  "sound level": DecibelsA;
  charge: AmpereHours;
  "area-specific resistance": OhmSquareMetres;
  capacitance: Farads;
  "luminous intensity": Candela;
  luminance: CandelaPerSquareMetre;
  illuminance: Lux;
  frequency: Hertz;
}

export type Dimension = keyof QuantityOf;

/** One accepted unit: its value in the base unit is `number · 10^power · times / per`. */
export interface Unit {
  readonly symbol: string;
  /** Decimal shift to the base unit. */
  readonly power: number;
  /** Whole factor that is no power of ten (an hour is 60 minutes). */
  readonly times?: number;
  readonly per?: number;
  /** A unit that is understood but never printed. */
  readonly readOnly?: true;
}

const PREFIX_POWER = { p: -12, n: -9, µ: -6, m: -3, "": 0, k: 3, M: 6, G: 9, T: 12 } as const;
type Prefix = keyof typeof PREFIX_POWER;

function prefixed(root: string, prefixes: readonly Prefix[], readOnly: readonly Prefix[] = []): Unit[] {
  return [
    ...prefixes.map((prefix) => ({ symbol: prefix + root, power: PREFIX_POWER[prefix] })),
    ...readOnly.map((prefix) => ({
      symbol: prefix + root,
      power: PREFIX_POWER[prefix],
      readOnly: true as const,
    })),
  ];
}

/**
 * The units of each dimension, smallest first, with the SI prefixes that make sense in this trade. Spellings are the
 * normal form that `unit-spelling.ts` reduces a written unit to. A unit with power 0 and no factor is a base unit.
 */
export const UNITS: Readonly<Record<Dimension, readonly Unit[]>> = {
  // Array voltages are spoken of in volts up to 1500 V, so kV is read and not printed.
  voltage: prefixed("V", ["µ", "m", ""], ["k"]),
  current: prefixed("A", ["n", "µ", "m", "", "k"]),
  resistance: prefixed("Ω", ["µ", "m", "", "k", "M", "G", "T"]),
  "real power": prefixed("W", ["m", "", "k", "M", "G"]),
  "apparent power": prefixed("VA", ["", "k", "M", "G"]),
  length: [
    { symbol: "mm", power: -3 },
    { symbol: "cm", power: -2, readOnly: true },
    ...prefixed("m", ["", "k"]),
  ],
  area: [
    { symbol: "mm²", power: -6, readOnly: true },
    { symbol: "cm²", power: -4, readOnly: true },
    { symbol: "m²", power: 0 },
  ],
  "cross-section": [{ symbol: "mm²", power: 0 }],
  temperature: [{ symbol: "°C", power: 0 }],
  "relative temperature coefficient": [
    { symbol: "%/K", power: -2 },
    { symbol: "%/°C", power: -2, readOnly: true },
    { symbol: "1/K", power: 0, readOnly: true },
    { symbol: "1/°C", power: 0, readOnly: true },
  ],
  "absolute temperature coefficient": [
    { symbol: "mV/K", power: -3 },
    { symbol: "mV/°C", power: -3, readOnly: true },
    { symbol: "V/K", power: 0 },
    { symbol: "V/°C", power: 0, readOnly: true },
  ],
  duration: [
    { symbol: "s", power: 0, per: 60 },
    { symbol: "min", power: 0 },
    { symbol: "h", power: 0, times: 60 },
    { symbol: "d", power: 0, times: 1440 },
  ],
  ratio: [
    { symbol: "‰", power: -3, readOnly: true },
    { symbol: "%", power: -2 },
    { symbol: "", power: 0, readOnly: true },
  ],
  "sound level": [
    { symbol: "dB", power: 0, readOnly: true },
    { symbol: "dB(A)", power: 0 },
  ],
  charge: prefixed("Ah", ["m", "", "k"]),
  "area-specific resistance": prefixed("Ω·m²", ["", "k", "M", "G"], ["m"]),
  capacitance: prefixed("F", ["p", "n", "µ", "m", ""]),
  "luminous intensity": prefixed("cd", ["m", "", "k"]),
  luminance: prefixed("cd/m²", ["", "k"]),
  illuminance: prefixed("lx", ["m", "", "k"]),
  frequency: prefixed("Hz", ["m", "", "k", "M", "G"]),
};

export const DIMENSIONS = Object.keys(UNITS) as readonly Dimension[];

/** The printed unit without a prefix, where the dimension has one: the unit to write in an example. */
export function plainUnit(dimension: Dimension): Unit {
  const printed = UNITS[dimension].filter((unit) => !unit.readOnly);
  return printed.find((unit) => unit.power === 0 && !unit.per && !unit.times) ?? printed[0]!;
}

/** What is accepted for a dimension, in words: "a voltage in V (also µV, mV, kV)". */
export function acceptedUnits(dimension: Dimension): string {
  const article = /^[aei]/.test(dimension) ? "an" : "a";
  const symbols = UNITS[dimension].map((unit) => unit.symbol);
  if (dimension === "ratio") return "a share such as 2 %, 20 ‰ or 0.02";
  const plain = plainUnit(dimension).symbol;
  const others = symbols.filter((symbol) => symbol !== plain);
  const also = others.length > 0 ? ` (also ${others.join(", ")})` : "";
  return `${article} ${dimension} in ${plain}${also}`;
}
