import { checkOverride, type InputFault, type WantedOverride } from "@earthbell/model";
import type { OverridableValue, RulePack, ValueOverride } from "@earthbell/engine";

interface Checked {
  /** null where the pack has no such value. */
  readonly known: OverridableValue | null;
  /** Everything that is wrong, at once; empty: it may be put. */
  readonly faults: readonly InputFault[];
}

/** What is wrong with an override that was typed, told as faults of its pack. */
export function overrideFaults(
  wanted: WantedOverride,
  held: readonly RulePack[],
  inForce: readonly ValueOverride[],
): Checked {
  const { known, troubles } = checkOverride(wanted, held, inForce);
  const faults = troubles.map((trouble) => ({ ...trouble, file: wanted.pack, line: null, column: null }));
  return { known, faults };
}
