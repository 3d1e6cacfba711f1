import type { Provenance } from "../provenance.ts";
import { packsWith } from "./built-in-packs.ts";
import type { AlarmNeeds, Bounds, Condition, DutyRow, RulePack } from "./pack.ts";

/** A value of a rule pack that somebody answerable replaced for their team. */
export interface ValueOverride {
  /** Id of the pack. */
  readonly pack: string;
  /** Place of the value in the pack, as `overridableValues` names it. */
  readonly field: string;
  /** In the unit of the field. */
  readonly value: number;
  readonly because: string;
  /** What the value is taken from: an own copy of the standard, a letter of the authority. */
  readonly source: string;
  readonly by: string;
  /** YYYY-MM-DD. */
  readonly on: string;
}

/** A number of a pack that may be replaced. */
export interface OverridableValue extends Provenance {
  /** Such as `insulationThreshold.rows[0].ohms`. */
  readonly field: string;
  /** What it is, for people. */
  readonly says: string;
  readonly unit: string;
  readonly value: number;
  /** In which direction a change asks for more of the alarm; null: neither can be called safer. */
  readonly safer: "higher" | "lower" | null;
}

/** Every number of a pack that may be replaced, in the order of the pack. */
export function overridableValues(pack: RulePack): readonly OverridableValue[] {
  return [...dutyValues(pack), ...alarmValues(pack.alarm), ...limitValues(pack)];
}

/**
 * The packs to go by: the user's own, and every pack of which values were replaced, with those values in their place. Each
 * replaced value says in its source by whom, when, why, and what it stands for; its tag is `user`.
 *
 * An override of a pack or field that is not there any more changes nothing.
 *
 * @returns packs to give to `assessSite` as `packs`
 */
export function packsInForce(
  own: readonly RulePack[],
  overrides: readonly ValueOverride[],
): readonly RulePack[] {
  if (overrides.length === 0) return own;
  const named = new Set([...own.map(({ id }) => id), ...overrides.map(({ pack }) => pack)]);
  return packsWith(own)
    .filter(({ id }) => named.has(id))
    .map((pack) =>
      withOverrides(
        pack,
        overrides.filter((one) => one.pack === pack.id),
      ),
    );
}

/** A pack with values replaced. */
export function withOverrides(pack: RulePack, overrides: readonly ValueOverride[]): RulePack {
  if (overrides.length === 0) return pack;
  const amended = structuredClone(pack);
  const values = new Map(overridableValues(pack).map((one) => [one.field, one]));
  for (const override of overrides) {
    const known = values.get(override.field);
    if (known !== undefined) put(amended, known, override);
  }
  return amended;
}

/** Whether a value asks for less of the alarm than the one it replaces, or might: null where it is the same. */
export function directionOf(
  { value, safer }: Pick<OverridableValue, "value" | "safer">,
  wanted: number,
): "stronger" | "weaker" | "unknown" | null {
  if (wanted === value) return null;
  if (safer === null) return "unknown";
  return wanted > value === (safer === "higher") ? "stronger" : "weaker";
}

const OVERRIDDEN = "overridden by";

/** Whether a value stands in the place of its pack's own. */
export function isOverridden({ source, tag }: Provenance): boolean {
  return tag === "user" && source.startsWith(OVERRIDDEN);
}

/** The place of a value in its pack: names of fields and numbers of rows. */
function stepsOf(field: string): readonly (string | number)[] {
  return field
    .split(/[.[\]]+/u)
    .filter((step) => step !== "")
    .map((step) => (/^\d+$/u.test(step) ? Number(step) : step));
}

/** Of a value with its own source that is put in; of a bound of a row, whose source the row has, both. */
function put(pack: RulePack, known: OverridableValue, override: ValueOverride): void {
  const steps = stepsOf(known.field);
  const last = steps.at(-1)!;
  const holder = steps.slice(0, -1).reduce<unknown>((at, step) => (at as Holder)[step], pack) as Holder;
  const { source, tag } = overriddenSource(known, override);
  if (steps[0] === "duty") {
    holder[last] = override.value;
    const row = pack.duty[Number(steps[1])] as DutyRow & { source: string; tag: string };
    // Several bounds of one row may be replaced: the row tells of each.
    row.source = row.tag === "user" ? `${source} ${row.source}` : source;
    row.tag = tag;
  } else holder[last] = { value: override.value, source, tag };
}

type Holder = Record<string | number, unknown>;

function overriddenSource(
  { value, unit, source, tag }: OverridableValue,
  { by, on, because, source: from }: ValueOverride,
): Provenance {
  const words = because.replace(/[.\s]+$/u, "");
  const unitWords = unit === "" ? "" : ` ${unit}`;
  return {
    source: `${OVERRIDDEN} ${by} on ${on}: ${words} (from ${from}); in place of ${String(value)}${unitWords}, ${source} [${tag}]`,
    tag: "user",
  };
}

const FACTS = {
  "max-voltage": ["highest array voltage", "V"],
  "power-kilowatts": ["array power", "kW"],
  "parallel-strings": ["strings in parallel", ""],
} as const;

function dutyValues({ duty }: RulePack): readonly OverridableValue[] {
  return duty.flatMap((row, at) =>
    row.when.flatMap((condition, nth) => boundsOf(row, condition, `duty[${at}].when[${nth}]`)),
  );
}

function boundsOf(row: DutyRow, condition: Condition, at: string): readonly OverridableValue[] {
  if (!isCounted(condition)) return [];
  const [what, unit] = FACTS[condition.fact];
  return (["above", "atMost"] as const).flatMap((bound): readonly OverridableValue[] => {
    const value = condition[bound];
    if (value === undefined) return [];
    const words = bound === "above" ? "above" : "up to";
    return [
      {
        field: `${at}.${bound}`,
        says: `Row ${row.id} (${ALARMS[row.alarm]}): ${what} ${words}`,
        unit,
        value,
        safer: saferBound(row, bound),
        source: row.source,
        tag: row.tag,
      },
    ];
  });
}

const ALARMS = { required: "alarm required", "not-required": "no alarm required", undecided: "undecided" };

function isCounted(
  condition: Condition,
): condition is Condition & Bounds & { readonly fact: keyof typeof FACTS } {
  return condition.fact in FACTS;
}

/** A row that asks for the alarm is safer when it holds more arrays, one that does not when it holds fewer. */
function saferBound({ alarm }: DutyRow, bound: "above" | "atMost"): OverridableValue["safer"] {
  if (alarm === "undecided") return null;
  return (alarm === "required") === (bound === "atMost") ? "higher" : "lower";
}

const ALARM_VALUES = {
  leastAddresses: ["A message goes to at least", "addresses", "higher"],
  repeatEveryMinutes: ["A message is repeated at least every", "min", "lower"],
  checkEveryHours: ["Insulation is checked at least every", "h", "lower"],
} as const satisfies Partial<Record<keyof AlarmNeeds, readonly [string, string, "higher" | "lower"]>>;

function alarmValues(alarm: AlarmNeeds | undefined): readonly OverridableValue[] {
  return (Object.keys(ALARM_VALUES) as (keyof typeof ALARM_VALUES)[]).flatMap((name) => {
    const held = alarm?.[name];
    const [says, unit, safer] = ALARM_VALUES[name];
    return held === undefined ? [] : [{ field: `alarm.${name}`, says, unit, safer, ...held }];
  });
}

function limitValues({ insulationThreshold, residual, insulationTest }: RulePack) {
  return [
    ...(insulationThreshold?.rows ?? []).map(
      (row, at): OverridableValue => ({
        field: `insulationThreshold.rows[${at}].ohms`,
        says: `Insulation threshold, ${insulationThreshold?.rating.value === "array-kilowatts" ? "array" : "inverter"} ${spanWords(row)} ${insulationThreshold?.rating.value === "array-kilowatts" ? "kW" : "kVA"}`,
        unit: "Ω",
        safer: "higher",
        ...row.ohms,
      }),
    ),
    ...(residual ?? []).map((row, at): OverridableValue => {
      const form = row.milliamps === undefined ? "milliampsPerKilovoltampere" : "milliamps";
      return {
        field: `residual[${at}].${form}`,
        says: `Continuous residual current, inverter ${spanWords(row)} kVA`,
        unit: form === "milliamps" ? "mA" : "mA per kVA",
        safer: "lower",
        ...row[form]!,
      };
    }),
    ...(insulationTest ?? []).flatMap((row, at): readonly OverridableValue[] => {
      const which = `Insulation test, row ${at + 1}`;
      const place = `insulationTest[${at}]`;
      // Too low a voltage misses a fault, too high a one harms what is tested.
      return [
        {
          field: `${place}.testVoltage`,
          says: `${which}: test voltage`,
          unit: "V",
          safer: null,
          ...row.testVoltage,
        },
        {
          field: `${place}.minimumOhms`,
          says: `${which}: at least`,
          unit: "Ω",
          safer: "higher",
          ...row.minimumOhms,
        },
      ];
    }),
  ];
}

function spanWords({ above, atMost }: Bounds): string {
  return `above ${above ?? 0}${atMost === undefined ? "" : ` to ${atMost}`}`;
}
