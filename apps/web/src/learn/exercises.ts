import type { Practice } from "../engine/jobs.ts";

/** Ten practice arrays, from a plain hard fault to what a newcomer meets last: wet strings, two faults, none at all. */
export const EXERCISES: readonly (Practice & { readonly name: string })[] = [
  { kind: "hard", seed: 11, name: "One string, a hard fault" },
  { kind: "hard", seed: 12, name: "One string, another hard fault" },
  { kind: "soft", seed: 21, name: "One string, a soft fault" },
  { kind: "soft", seed: 22, name: "One string, a softer one" },
  { kind: "paralleled", seed: 31, name: "Strings joined at a combiner" },
  { kind: "paralleled", seed: 33, name: "More strings joined" },
  { kind: "wet", seed: 41, name: "A wet string that leaks everywhere" },
  { kind: "paralleled-soft", seed: 51, name: "A soft fault among joined strings" },
  { kind: "two", seed: 61, name: "A string that reads oddly" },
  { kind: "none", seed: 71, name: "An alarm that came and went" },
];
