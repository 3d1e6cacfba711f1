import type { RegisterImage } from "./point.ts";

/** Registers of one read, from its address on. */
export interface RegisterRun {
  readonly address: number;
  readonly registers: readonly number[];
}

/** Several reads as one picture of a device. */
export function imageOf(runs: readonly RegisterRun[]): RegisterImage {
  return {
    at: (address) => {
      for (const run of runs) {
        const word = run.registers[address - run.address];
        if (word !== undefined) return word;
      }
      return undefined;
    },
  };
}
