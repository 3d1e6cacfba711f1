import type { Provenance } from "../provenance.ts";
import type { AlarmNeeds, Bounds, Condition, DutyRow, RulePack } from "./pack.ts";

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
