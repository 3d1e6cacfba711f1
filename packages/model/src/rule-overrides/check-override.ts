import {
  directionOf,
  type OverridableValue,
  overridableValues,
  type RulePack,
  type ValueOverride,
  withOverrides,
} from "@earthbell/engine";
import type { FaultCode } from "../faults/catalogue.ts";
import { nearestName } from "../fields/nearest-name.ts";
import { readRulePack } from "../rule-pack/read-rule-pack.ts";

/** A value of a rule pack that somebody wants to replace. */
export interface WantedOverride {
  readonly pack: string;
  readonly field: string;
  /** In the unit of the field. */
  readonly value: number;
  readonly because: string;
  readonly source: string;
  /** The person has read that the value asks for less, or might. */
  readonly confirmed: boolean;
}

/** One thing that is wrong with an override. */
interface OverrideTrouble {
  readonly code: FaultCode;
  readonly field: keyof WantedOverride;
  readonly value: string;
  readonly allowed: string;
  readonly message: string;
}

interface CheckedOverride {
  /** null where the pack has no such value. */
  readonly known: OverridableValue | null;
  /** Everything that is wrong, at once; empty: it may be put. */
  readonly troubles: readonly OverrideTrouble[];
}

/** What is replaced, without who answers for it. */
type Replaced = Pick<ValueOverride, "pack" | "field" | "value">;

/**
 * Whether a value may be put in the place of a pack's own.
 *
 * @param held    the packs that are held, as their editions or files have them
 * @param others  other overrides that are to be in force beside it
 */
export function checkOverride(
  wanted: WantedOverride,
  held: readonly RulePack[],
  others: readonly Replaced[],
): CheckedOverride {
  const pack = held.find(({ id }) => id === wanted.pack);
  if (pack === undefined) return { known: null, troubles: [packUnknown(wanted, held)] };
  const values = overridableValues(pack);
  const known = values.find(({ field }) => field === wanted.field);
  if (known === undefined) return { known: null, troubles: [fieldUnknown(wanted, values)] };
  const beside = others.filter(({ pack: of, field }) => of === pack.id && field !== wanted.field);
  return {
    known,
    troubles: [
      ...wordsTroubles(wanted),
      ...valueTroubles(wanted, pack, beside),
      ...directionTroubles(wanted, known),
    ],
  };
}

const meant = (name: string, names: readonly string[]): string => {
  const nearest = nearestName(name, names);
  return nearest === undefined ? "" : ` Is ${nearest} meant?`;
};

function packUnknown({ pack }: WantedOverride, held: readonly RulePack[]): OverrideTrouble {
  const ids = held.map(({ id }) => id);
  return {
    code: "RULES_OVERRIDE_UNKNOWN",
    field: "pack",
    value: pack,
    allowed: `the id of a rule pack that is held: ${ids.join(", ")}`,
    message: `There is no rule pack ${pack}.${meant(pack, ids)}`,
  };
}

function fieldUnknown({ field }: WantedOverride, values: readonly OverridableValue[]): OverrideTrouble {
  const fields = values.map((one) => one.field);
  return {
    code: "RULES_OVERRIDE_UNKNOWN",
    field: "field",
    value: field,
    allowed: fields.join(", "),
    message: `The pack has no number at ${field}.${meant(field, fields)}`,
  };
}

function wordsTroubles(wanted: WantedOverride): readonly OverrideTrouble[] {
  return (["because", "source"] as const)
    .filter((field) => wanted[field].trim().length < 3)
    .map((field) => ({
      code: "RULES_OVERRIDE_REASON",
      field,
      value: wanted[field],
      allowed: "at least three characters",
      message:
        field === "because"
          ? "The override does not say why."
          : "The override does not say what the value is taken from.",
    }));
}

/** The pack with the values in it has to be a sound rule pack; what is not sound in it is told of the override that made it so. */
function valueTroubles(
  wanted: WantedOverride,
  pack: RulePack,
  others: readonly Replaced[],
): readonly OverrideTrouble[] {
  const tried = [...others, wanted].map(({ pack: of, field, value }) => ({
    ...{ pack: of, field, value },
    ...{ because: "tried", source: "tried", by: "tried", on: "2000-01-01" },
  }));
  const read = readRulePack(JSON.stringify(withOverrides(pack, tried)), pack.id);
  if (read.ok) return [];
  const fields = tried.map(({ field }) => field);
  return read.faults
    .filter((fault) => ownersOf(fault.field, fields).includes(wanted.field))
    .map(({ allowed, message }) => ({
      code: "RULES_OVERRIDE_VALUE",
      field: "value",
      value: String(wanted.value),
      allowed,
      message,
    }));
}

/** The overrides that a fault of the pack is about: at its own place, else in the same row, else all of them. */
function ownersOf(fault: string, fields: readonly string[]): readonly string[] {
  const at = fields.filter((field) => fault.startsWith(field));
  if (at.length > 0) return at;
  const inRow = fields.filter((field) => fault.startsWith(field.slice(0, field.lastIndexOf("."))));
  return inRow.length > 0 ? inRow : fields;
}

function directionTroubles(wanted: WantedOverride, known: OverridableValue): readonly OverrideTrouble[] {
  const unit = known.unit === "" ? "" : ` ${known.unit}`;
  const value = String(wanted.value);
  const direction = directionOf(known, wanted.value);
  if (direction === null)
    return [
      {
        code: "RULES_OVERRIDE_SAME",
        field: "value",
        value,
        allowed: `another value than ${String(known.value)}${unit}`,
        message: `The pack itself says ${String(known.value)}${unit}.`,
      },
    ];
  if (direction === "stronger" || wanted.confirmed) return [];
  return [
    {
      code: "RULES_OVERRIDE_WEAKER",
      field: "confirmed",
      value,
      allowed:
        known.safer === null
          ? "a confirmation that the value was checked"
          : `a value ${known.safer} than ${String(known.value)}${unit}, or a confirmation`,
      message: `${value}${unit} in place of ${String(known.value)}${unit} may leave a fault unseen or unheard, or harm what is tested.`,
    },
  ];
}
