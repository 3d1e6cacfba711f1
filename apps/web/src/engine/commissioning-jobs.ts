import { packsInForce, type ProofPlan, proofPlan, type Site } from "@earthbell/engine";
import {
  commissioningText,
  type InputFault,
  type Judgement,
  judgeResults,
  readCommissioning,
  readSettingSheet,
  settingSheetText,
  type TypedSettingSheet,
  type ReadResult,
  typedCommissioning,
  type TypedCommissioning,
} from "@earthbell/model";
import type { DeskRules } from "../rules/desk-rules.ts";

/** Names of the entries of each list, in their order, by which the page finds its fields again. */
export type EntryNames = Readonly<Record<"results" | "drills" | "signatures", readonly string[]>>;

/** Results as they are typed: what each reading says, the file they make, and what the reader of files finds wrong with it. */
interface JudgedCommissioning {
  readonly judgements: readonly (Judgement | null)[];
  /** Of the entries that were judged: by the time of the answer others may be typed. */
  readonly names: EntryNames;
  readonly text: string;
  readonly faults: readonly InputFault[];
}

/** The steps and lines of `earthbell prove`, by the rules that the desk goes by. */
function provePlan(site: Site, onDate: string, { own, overrides }: DeskRules): ProofPlan {
  const packs = packsInForce(own, overrides);
  return proofPlan(site, { packs, ...(onDate === "" ? {} : { onDate }) });
}

function judgeCommissioning(
  plan: ProofPlan,
  typed: TypedCommissioning,
  names: EntryNames,
): JudgedCommissioning {
  const judged = judgeResults(plan, typed.results);
  const text = commissioningText({ ...typed, results: judged.map(({ result }) => result) });
  const read = readCommissioning(text, "results", plan);
  const judgements = judged.map(({ judgement }) => judgement);
  return { judgements, names, text, faults: read.ok ? [] : read.faults };
}

function readResults(text: string, file: string, plan: ProofPlan): ReadResult<TypedCommissioning> {
  const read = readCommissioning(text, file, plan);
  return read.ok ? { ...read, record: typedCommissioning(read.record) } : read;
}

/** A setting sheet as it is typed: the file that it makes, and what the reader of files finds wrong with it. */
function judgeSheet(typed: TypedSettingSheet): {
  readonly text: string;
  readonly faults: readonly InputFault[];
} {
  const text = settingSheetText(typed);
  const read = readSettingSheet(text, "setting sheet");
  return { text, faults: read.ok ? [] : read.faults };
}

export const COMMISSIONING_JOBS = {
  provePlan,
  judgeCommissioning,
  readResults,
  typedResults: typedCommissioning,
  judgeSheet,
  readSheet: (text: string, file: string) => readSettingSheet(text, file),
};
