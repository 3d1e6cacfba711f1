import type { ProofPlan, ProofStep } from "@earthbell/engine";
import {
  duplicateIds,
  entriesOf,
  idsOfRequired,
  textsOf,
  unknownReferences,
  type Entry,
  type Written,
} from "../fields/entries.ts";
import type { FieldFault } from "../fields/field-fault.ts";
import { judgeReading } from "./judge-reading.ts";
import { settingsFaults } from "./settings-consistency.ts";

type Expected = ProofStep["expected"][number];

/** What the schema cannot see: instruments, and how results fit the steps that the site asks for. */
export function* commissioningConsistency(
  data: Readonly<Record<string, unknown>>,
  plan: ProofPlan | null,
): Generator<FieldFault> {
  const root: Entry = { path: [], fields: data };
  const instruments = entriesOf(root, "instruments");
  const results = entriesOf(root, "results");
  yield* duplicateIds(instruments, "Instrument");
  for (const result of results)
    yield* unknownReferences(textsOf(result, "with"), idsOfRequired(instruments), "instrument");
  yield* calibratedLater(root, instruments);
  yield* settingsFaults(root);
  if (plan === null) return;
  if (data["site"] !== plan.site && typeof data["site"] === "string")
    yield {
      code: "COMMISSIONING_OTHER_SITE",
      path: ["site"],
      part: "value",
      value: data["site"],
      allowed: plan.site,
      message: `These are results of ${data["site"]}, and the paper is of ${plan.site}.`,
    };
  const paths = new Set(plan.proofs.map(({ path }) => path));
  for (const drill of entriesOf(root, "drills"))
    yield* unknownReferences(textsOf(drill, "path"), paths, "path");
  for (const result of results) yield* resultFaults(result, plan);
}

function* calibratedLater(root: Entry, instruments: readonly Entry[]): Generator<FieldFault> {
  const on = root.fields["on"];
  if (typeof on !== "string") return;
  for (const { path, text } of instruments.flatMap((one) => textsOf(one, "calibrated")))
    if (text > on)
      yield {
        code: "INPUT_DATES_REVERSED",
        path,
        part: "value",
        value: text,
        allowed: `a day up to ${on}`,
        message: `calibrated ${text} is after the work on ${on}.`,
      };
}

function* resultFaults(result: Entry, { proofs }: ProofPlan): Generator<FieldFault> {
  const [array] = textsOf(result, "array");
  const [path] = textsOf(result, "path");
  const [step] = textsOf(result, "step");
  if (array !== undefined)
    yield* unknownReferences([array], new Set(proofs.map((proof) => proof.array)), "array with a path");
  const ofArray = proofs.filter((proof) => proof.array === array?.text);
  if (ofArray.length === 0) return;
  if (path !== undefined)
    yield* unknownReferences([path], new Set(ofArray.map((proof) => proof.path)), "path of this array");
  if (step === undefined) return;
  const proof = ofArray.find((one) => path === undefined || one.path === path.text);
  if (proof === undefined) return;
  yield* unknownReferences([step], new Set(proof.steps.map(({ id }) => id)), "step");
  const planned = proof.steps.find(({ id }) => id === step.text);
  if (planned !== undefined) yield* lineFaults(result, planned);
}

function* lineFaults(result: Entry, { id, expected }: ProofStep): Generator<FieldFault> {
  const { line = 1 } = result.fields;
  if (typeof line !== "number" || !Number.isInteger(line) || line < 1) return;
  const wanted = expected[line - 1];
  if (wanted === undefined) {
    if (expected.length === 0 && result.fields["line"] === undefined) return;
    yield {
      code: "COMMISSIONING_LINE_UNKNOWN",
      path: [...result.path, "line"],
      part: "value",
      value: line,
      allowed: expected.length === 0 ? "no line: the step has no table" : `1 to ${expected.length}`,
      message: `Step ${id} has ${expected.length === 0 ? "no table" : `a table of ${expected.length} lines`}.`,
    };
    return;
  }
  const [reading] = textsOf(result, "reading");
  if (reading !== undefined) yield* readingFaults(result, reading, wanted);
}

/** A reading has the dimension of its line, and is not called passed beyond its limit. */
function* readingFaults(result: Entry, reading: Written, wanted: Expected): Generator<FieldFault> {
  const [stated] = textsOf(result, "limit");
  const judged = judgeReading(reading.text, wanted, stated?.text ?? null);
  if (judged.verdict === "unreadable") {
    const { of, code, message, allowed } = judged.why;
    const { path, text } = of === "reading" ? reading : stated!;
    yield { code, message, allowed, path, part: "value", value: text };
  }
  if (judged.verdict === "fails" && result.fields["passed"] === true)
    yield {
      code: "COMMISSIONING_PASS_CONTRADICTED",
      path: [...result.path, "passed"],
      part: "value",
      value: true,
      allowed: "false, or a limit of your own with limitFrom",
      message: `It is called passed, and ${judged.text}.`,
    };
}
