/**
 * Branded numbers: a Volts is a number in volts, and the compiler refuses to pass it where Ohms are asked for.
 * Arithmetic on a brand gives a plain number again; the function that knows the unit of its result brands it.
 */
declare const unit: unique symbol;
type Branded<Unit extends string> = number & { readonly [unit]: Unit };

export type Volts = Branded<"V">;
export type Amperes = Branded<"A">;
export type Ohms = Branded<"Ω">;
export type Watts = Branded<"W">;
export type VoltAmperes = Branded<"VA">;
export type Metres = Branded<"m">;
export type SquareMetres = Branded<"m²">;
/** Conductor cross-section, kept in mm² because every cable table is. */
export type SquareMillimetres = Branded<"mm²">;
/** Temperature on the Celsius scale. */
export type Celsius = Branded<"°C">;
/** Relative change per kelvin, as a ratio (−0.27 %/K is −0.0027). */
export type PerKelvin = Branded<"1/K">;
/** Absolute change of a voltage per kelvin. */
export type VoltsPerKelvin = Branded<"V/K">;
/** Durations are kept in minutes: the resolution of an alarm schedule and of a day's work. */
export type Minutes = Branded<"min">;
/** A-weighted sound level. */
export type DecibelsA = Branded<"dB(A)">;
export type AmpereHours = Branded<"Ah">;
/** A share of one (0.3 % is 0.003). */
export type Ratio = Branded<"1">;
/** Area-specific insulation resistance. */
export type OhmSquareMetres = Branded<"Ω·m²">;
export type Farads = Branded<"F">;
export type Candela = Branded<"cd">;
/** Luminance, cd/m². */
export type CandelaPerSquareMetre = Branded<"cd/m²">;
export type Lux = Branded<"lx">;
export type Hertz = Branded<"Hz">;
export type Siemens = Branded<"S">;
