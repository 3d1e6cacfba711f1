import {
  directionOf,
  type OverridableValue,
  overridableValues,
  type RulePack,
  type ValueOverride,
  withOverrides,
} from "@earthbell/engine";
import { type InputFault, readRulePack, type RequestCode } from "@earthbell/model";

/** A value of a rule pack that somebody wants to replace. */
export interface WantedOverride {
  readonly pack: string;
  readonly field: string;
  readonly value: number;
  readonly because: string;
  readonly source: string;
  /** The person has read that the value asks for less, or might. */
  readonly confirmed: boolean;
}

export interface Checked {
  /** null where the pack has no such value. */
  readonly known: OverridableValue | null;
  /** Everything that is wrong, at once; empty: it may be put. */
  readonly faults: readonly InputFault[];
}

/**
 * Whether a value may be put in the place of a pack's own.
 *
 * @param pack    the pack as its edition or file has it
 * @param others  overrides of the same pack that are in force
 */
export function checkOverride(
  wanted: WantedOverride,
  pack: RulePack | undefined,
  others: readonly ValueOverride[],
): Checked {
  const known = pack && overridableValues(pack).find(({ field }) => field === wanted.field);
  if (pack === undefined || known === undefined) return { known: null, faults: [unknownFault(wanted, pack)] };
  return {
    known,
    faults: [
      ...wordsFaults(wanted),
      ...valueFaults(
        wanted,
        pack,
        others.filter(({ field }) => field !== wanted.field),
      ),
      ...directionFaults(wanted, known),
    ],
  };
}

function fault(
  code: RequestCode,
  { pack }: WantedOverride,
  words: Pick<InputFault, "field" | "value" | "allowed" | "message">,
): InputFault {
  return { code, file: pack, line: null, column: null, ...words };
}

function unknownFault(wanted: WantedOverride, pack: RulePack | undefined): InputFault {
  const { pack: id, field } = wanted;
  return pack === undefined
    ? fault("RULES_OVERRIDE_UNKNOWN", wanted, {
        field: "pack",
        value: id,
        allowed: "the id of a rule pack that is kept here",
        message: `There is no rule pack ${id}.`,
      })
    : fault("RULES_OVERRIDE_UNKNOWN", wanted, {
        field: "field",
        value: field,
        allowed: overridableValues(pack)
          .map((one) => one.field)
          .join(", "),
        message: `The pack has no number at ${field}.`,
      });
}

function wordsFaults(wanted: WantedOverride): readonly InputFault[] {
  return (["because", "source"] as const)
    .filter((field) => wanted[field].trim().length < 3)
    .map((field) =>
      fault("RULES_OVERRIDE_REASON", wanted, {
        field,
        value: wanted[field],
        allowed: "at least three characters",
        message:
          field === "because"
            ? "The override does not say why."
            : "The override does not say what the value is taken from.",
      }),
    );
}

/** The pack with the value in it has to be a sound rule pack. */
function valueFaults(
  wanted: WantedOverride,
  pack: RulePack,
  others: readonly ValueOverride[],
): readonly InputFault[] {
  const tried = [...others, wanted].map(({ pack: of, field, value }) => ({
    ...{ pack: of, field, value },
    ...{ because: "tried", source: "tried", by: "tried", on: "2000-01-01" },
  }));
  const read = readRulePack(JSON.stringify(withOverrides(pack, tried)), pack.id);
  if (read.ok) return [];
  return read.faults.map(({ allowed, message }) =>
    fault("RULES_OVERRIDE_VALUE", wanted, { field: "value", value: String(wanted.value), allowed, message }),
  );
}

function directionFaults(wanted: WantedOverride, known: OverridableValue): readonly InputFault[] {
  const unit = known.unit === "" ? "" : ` ${known.unit}`;
  const about = { value: String(wanted.value) };
  switch (directionOf(known, wanted.value)) {
    case null:
      return [
        fault("RULES_OVERRIDE_SAME", wanted, {
          ...about,
          field: "value",
          allowed: `another value than ${String(known.value)}${unit}`,
          message: `The pack itself says ${String(known.value)}${unit}.`,
        }),
      ];
    case "stronger":
      return [];
    case "weaker":
    case "unknown":
      if (wanted.confirmed) return [];
      return [
        fault("RULES_OVERRIDE_WEAKER", wanted, {
          ...about,
          field: "confirmed",
          allowed:
            known.safer === null
              ? "a confirmation that the value was checked"
              : `a value ${known.safer} than ${String(known.value)}${unit}, or a confirmation`,
          message: `${String(wanted.value)}${unit} in place of ${String(known.value)}${unit} may leave a fault unseen or unheard, or harm what is tested.`,
        }),
      ];
  }
}
