import type { Provenance } from "@earthbell/engine";

/** A limit by which the watch decides, with its unit and where it comes from. */
export interface Limit extends Provenance {
  readonly value: number;
  readonly unit: string;
}

/** Where a limit comes from. */
export const lifecycle = {
  source: "IEC 62682 and ISA-18.2, measures of alarm systems",
  tag: "memory",
} as const;
export const ours = { source: "rule of this program", tag: "design choice" } as const;
