import type { ProofPlan } from "@earthbell/engine";
import type * as z from "zod";
import type { ReadOptions } from "../door/open-document.ts";
import { readRecord } from "../door/read-record.ts";
import type { ReadResult } from "../faults/input-fault.ts";
import type { HeldSheet } from "../setting-sheet/held-sheet.ts";
import { commissioningConsistency } from "./commissioning-consistency.ts";
import { heldSheetFaults } from "./held-sheet-faults.ts";
import { COMMISSIONING_FORMAT, commissioningFile } from "./commissioning-file.ts";

type File = z.output<typeof commissioningFile>;

/** What was measured when the alarm of a site was commissioned. Temperatures in °C, irradiance in W/m². */
export interface Commissioning extends Omit<File, "format" | "settings" | "drills" | "signatures"> {
  readonly settings: NonNullable<File["settings"]>;
  readonly drills: NonNullable<File["drills"]>;
  readonly signatures: NonNullable<File["signatures"]>;
}

/** What results are checked against beside the plan. */
export interface CommissioningOptions extends ReadOptions {
  /** Setting sheets that are at hand: steps that call themselves those of one are compared with it. */
  readonly sheets?: readonly HeldSheet[];
}

/**
 * Reads the results of a commissioning (`earthbell.commissioning/1`, YAML or JSON).
 *
 * @param plan  the steps that the site asks for; results are checked against it where it is given
 * @returns the results, or every fault of the file at once in order of line. Never throws.
 */
export function readCommissioning(
  source: string | Uint8Array,
  file: string,
  plan: ProofPlan | null,
  options: CommissioningOptions = {},
): ReadResult<Commissioning> {
  const { sheets = [] } = options;
  return readRecord(
    {
      name: COMMISSIONING_FORMAT,
      fields: commissioningFile,
      consistency: (data) => [...commissioningConsistency(data, plan), ...heldSheetFaults(data, sheets)],
      record: ({ format: _, settings = [], drills = [], signatures = [], ...rest }: File): Commissioning => ({
        ...rest,
        settings,
        drills,
        signatures,
      }),
    },
    source,
    file,
    options,
  );
}
