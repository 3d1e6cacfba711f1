import type { Sourced } from "../provenance.ts";

const upTo = (sizes: readonly number[], least: number): number | null =>
  sizes.find((size) => size >= least * (1 - 1e-9)) ?? null;

/** Fuse-link ratings [A], the R10 steps of IEC 60127. */
const FUSES: Sourced<readonly number[]> = {
  value: [
    0.1, 0.125, 0.16, 0.2, 0.25, 0.315, 0.4, 0.5, 0.63, 0.8, 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10,
  ],
  source: "IEC 60127 ratings",
  tag: "memory",
};

/** Sealed lead-acid capacities on sale [Ah]. */
const BATTERIES: Sourced<readonly number[]> = {
  value: [1.2, 2.1, 3.2, 7, 12, 17, 24, 38, 65, 100],
  source: "sizes commonly sold",
  tag: "common practice",
};

/** Relay contact ratings for direct current at up to 30 V [A]. */
const RELAY_CONTACTS: Sourced<readonly number[]> = {
  value: [2, 5, 8, 10, 16],
  source: "ratings commonly sold",
  tag: "common practice",
};

/** Diode reverse voltages [V]. */
const DIODES: Sourced<readonly number[]> = {
  value: [50, 100, 200, 400, 600, 1000],
  source: "ratings commonly sold",
  tag: "common practice",
};

/** Smallest standard fuse of at least a current; null beyond the list. */
export const fuseAtLeast = (amperes: number): number | null => upTo(FUSES.value, amperes);
export const batteryAtLeast = (ampereHours: number): number | null => upTo(BATTERIES.value, ampereHours);
export const relayContactAtLeast = (amperes: number): number | null => upTo(RELAY_CONTACTS.value, amperes);
export const diodeAtLeast = (volts: number): number | null => upTo(DIODES.value, volts);
