import type { Tag } from "../provenance.ts";
import type { Volts } from "../quantity/index.ts";
import type { InsulationTestRow } from "../rules/pack.ts";

const POSTER = "IEC 62446 poster, studylib.net 18490683";
const STANDARD = "IEC 62446-1";

/** Test voltage and least resistance by system voltage. */
export const INSULATION_TEST_ROWS: readonly InsulationTestRow[] = [
  {
    below: 120,
    testVoltage: { value: 250, source: POSTER, tag: "published" },
    minimumOhms: { value: 500_000, source: STANDARD, tag: "memory" },
  },
  {
    atMost: 500,
    testVoltage: { value: 500, source: POSTER, tag: "published" },
    minimumOhms: { value: 1_000_000, source: STANDARD, tag: "memory" },
  },
  {
    atMost: 1000,
    testVoltage: { value: 1000, source: POSTER, tag: "published" },
    minimumOhms: { value: 1_000_000, source: STANDARD, tag: "memory" },
  },
  {
    testVoltage: { value: 1500, source: `${STANDARD}:2016`, tag: "memory" },
    minimumOhms: { value: 1_000_000, source: STANDARD, tag: "memory" },
  },
];

/** From the open-circuit voltage at standard test conditions to the system voltage that chooses the row [published: POSTER]. */
export const SYSTEM_VOLTAGE_FACTOR = 1.25;

export interface InsulationTest {
  readonly testVoltage: Volts;
  readonly minimumOhms: number;
  /** Of the test voltage and of the minimum, in that order. */
  readonly source: string;
  /** The weaker of the two tags. */
  readonly tag: Tag;
}

/**
 * Test voltage and pass limit of the routine insulation test.
 *
 * @param vocStc  open-circuit voltage of the string at standard test conditions [V], > 0; the row is chosen by 1.25 times it
 * Source: voltages up to 1,000 V [published: IEC 62446 poster]; the rest, and the minima, [memory]
 * Check: checks/iec-62446-1
 */
export function insulationTest(
  vocStc: Volts,
  rows: readonly InsulationTestRow[] = INSULATION_TEST_ROWS,
): InsulationTest | null {
  return insulationTestForSystem(systemVoltageOf(vocStc), rows);
}

/** The system voltage that chooses the row, from the open-circuit voltage at standard test conditions. */
export function systemVoltageOf(vocStc: Volts): Volts {
  return (vocStc * SYSTEM_VOLTAGE_FACTOR) as Volts;
}

/** The row that holds a system voltage; undefined where the table ends before it. */
export function insulationTestRowAt(
  rows: readonly InsulationTestRow[],
  systemVoltage: Volts,
): InsulationTestRow | undefined {
  return rows.find(
    (candidate) =>
      systemVoltage < (candidate.below ?? Infinity) && systemVoltage <= (candidate.atMost ?? Infinity),
  );
}

/** The same from the system voltage itself, for whoever reads the table. */
export function insulationTestForSystem(
  systemVoltage: Volts,
  rows: readonly InsulationTestRow[] = INSULATION_TEST_ROWS,
): InsulationTest | null {
  const row = insulationTestRowAt(rows, systemVoltage);
  if (row === undefined) return null;
  const { testVoltage, minimumOhms } = row;
  return {
    testVoltage: testVoltage.value as Volts,
    minimumOhms: minimumOhms.value,
    source: `test voltage: ${testVoltage.source} [${testVoltage.tag}]; minimum: ${minimumOhms.source} [${minimumOhms.tag}]`,
    tag: testVoltage.tag === "published" ? minimumOhms.tag : testVoltage.tag,
  };
}
