import type { Sourced, Tag } from "../provenance.ts";
import type { Celsius, Ohms, SquareMillimetres } from "../quantity/index.ts";

export type ConductorKind = "solid-or-stranded" | "flexible" | "flexible-tinned";

/** IEC 60228 classes 1 and 2 share their column here; class 5 is flexible, plain or tinned. */
export function conductorKind(conductorClass: 1 | 2 | 5, tinned: boolean): ConductorKind | null {
  if (conductorClass === 5) return tinned ? "flexible-tinned" : "flexible";
  return tinned ? null : "solid-or-stranded";
}

const AREAS_MM2 = [0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16] as const;

const column = (
  source: string,
  tagOf: (areaMm2: number) => Tag,
  ohmsPerKm: readonly number[],
): readonly { readonly areaMm2: number; readonly ohmsPerKm: Sourced<number> }[] =>
  AREAS_MM2.map((areaMm2, i) => ({
    areaMm2,
    ohmsPerKm: { value: ohmsPerKm[i]!, source, tag: tagOf(areaMm2) },
  }));

/** Greatest resistance of copper conductors at 20 °C, in Ω/km. */
export const CONDUCTORS: Readonly<Record<ConductorKind, ReturnType<typeof column>>> = {
  "solid-or-stranded": column(
    "IEC 60228, classes 1 and 2, plain copper",
    () => "memory",
    [36.0, 24.5, 18.1, 12.1, 7.41, 4.61, 3.08, 1.83, 1.15],
  ),
  flexible: column(
    "IEC 60228, class 5, plain copper, one transcription in two copies; 1.5 mm² agreed by a second",
    () => "secondary",
    [39.0, 26.0, 19.5, 13.3, 7.98, 4.95, 3.3, 1.91, 1.21],
  ),
  "flexible-tinned": column(
    "IEC 60228, class 5, tinned copper (PV cable), one transcription",
    (areaMm2) => (areaMm2 < 1.5 ? "memory" : "secondary"),
    [40.1, 26.7, 20.0, 13.7, 8.21, 5.09, 3.39, 1.95, 1.24],
  ),
};

/** Change of copper's resistance per kelvin, referred to 20 °C. */
export const COPPER_PER_KELVIN: Sourced<number> = {
  value: 0.00393,
  source: "IEC 60228 transcriptions, copper at 20 °C",
  tag: "secondary",
};

/**
 * Resistance of one metre of one copper conductor at a temperature: r = r₂₀ (1 + 0.00393 (T − 20)).
 *
 * @param area         nominal cross-section; only the sizes of the table, 0.5 to 16 mm²
 * @param temperature  conductor temperature [°C]
 * @returns [Ω/m], with the table's source and tag; null where the table has no such size
 * Source: IEC 60228, tags by row. Check: checks/iec-60228
 * @example two cores of 50 m, 1.5 mm², class 2, at 20 °C: 2 · 50 · 0.0121 = 1.21 Ω
 */
export function conductorResistancePerMetre(
  area: SquareMillimetres,
  kind: ConductorKind,
  temperature: Celsius,
): Sourced<Ohms> | null {
  const row = CONDUCTORS[kind].find((candidate) => candidate.areaMm2 === area);
  if (row === undefined) return null;
  const hot = 1 + COPPER_PER_KELVIN.value * (temperature - 20);
  return { ...row.ohmsPerKm, value: ((row.ohmsPerKm.value / 1000) * hot) as Ohms };
}
