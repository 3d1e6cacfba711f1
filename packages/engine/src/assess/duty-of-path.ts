import type { Provenance, Sourced } from "../provenance.ts";
import type { AlarmNeeds, RulePack } from "../rules/pack.ts";
import type { ArrayAssessment, AssessmentFinding, PathAssessment } from "./assessment.ts";
import { siteFinding } from "./codes.ts";
import { listed } from "../path/judgement.ts";
import type { Path } from "./site.ts";
import { verdictWords } from "./wording.ts";

/** What the duty of the arrays it serves asks of a path, added to the judgement of the path itself. */
export function withDuty(
  judged: PathAssessment,
  path: Path,
  arrays: readonly ArrayAssessment[],
  packs: readonly RulePack[],
): PathAssessment {
  const served = arrays.filter((array) => path.arrays.includes(array.array));
  const required = served.filter((array) => array.duty.alarm === "required");
  const undecided = served.filter((array) => array.duty.alarm === "undecided");
  const needs = required.flatMap(({ duty }) => packs.find((pack) => pack.id === duty.rulePack)?.alarm ?? []);
  const findings = [
    ...naming(
      "DUTY_SERVED",
      required,
      (arrays) =>
        `The rules require an alarm on ${arrays}, and path ${path.id} serves it. Keep the path proved.`,
    ),
    ...naming(
      "DUTY_SERVED_UNDECIDED",
      undecided,
      (arrays) =>
        `Path ${path.id} serves ${arrays}, for which it is not settled whether an alarm is required. Settle the duty; until then keep the path as if it were required.`,
    ),
    ...(served.length > 1
      ? [
          siteFinding(
            "DUTY_PATH_SHARED",
            `Path ${path.id} serves ${listed(served.map(({ array }) => array))}, so whoever is told must first find out which has the fault. Make the message name the array, or give each its own signal.`,
          ),
        ]
      : []),
    ...needs.slice(0, 1).flatMap((need) => againstNeeds(path, need, judged)),
  ];
  const refused = findings.some((finding) => finding.severity === "fault");
  return {
    ...judged,
    verdict: refused ? "falls-short" : judged.verdict,
    findings: [...judged.findings, ...findings],
  };
}

function naming(
  code: "DUTY_SERVED" | "DUTY_SERVED_UNDECIDED",
  arrays: readonly ArrayAssessment[],
  text: (arrays: string) => string,
): readonly AssessmentFinding[] {
  if (arrays.length === 0) return [];
  const list = arrays.map(({ array, duty }) =>
    duty.rulePack === null ? `array ${array}` : `array ${array} (${duty.rulePack})`,
  );
  return [siteFinding(code, text(listed(list)))];
}

/** The practice of the trade is judged with the path itself; only a pack that asks for more is heard here. */
function againstNeeds(path: Path, needs: AlarmNeeds, judged: PathAssessment): readonly AssessmentFinding[] {
  const said = new Set(judged.findings.map((finding) => finding.code));
  const findings: AssessmentFinding[] = [];
  if (!needs.signals.value.includes(path.signal))
    findings.push(
      siteFinding(
        "DUTY_SIGNAL_NOT_ACCEPTED",
        `The rule accepts as a signal: ${needs.signals.value.join(", ")}. Path ${path.id} is of kind ${path.signal}, so it does not fulfil the duty. Add a path with an accepted signal, or correct the rule pack from your own copy of the rule.`,
      ),
    );
  if (path.signal !== "message") return findings;
  const least = needs.leastAddresses?.value ?? 1;
  if (path.to.length < least && !said.has("PATH_RECIPIENTS_TOO_FEW") && !said.has("PATH_RECIPIENTS_NONE"))
    findings.push({
      ...siteFinding(
        "DUTY_TOO_FEW_ADDRESSES",
        `The message of path ${path.id} goes to ${path.to.length} of the at least ${least} addresses that the rule asks for. Add recipients who read at other hours.`,
      ),
      ...sourceOf(needs.leastAddresses),
    });
  const slowest = needs.repeatEveryMinutes?.value ?? Infinity;
  if (path.repeatEvery !== undefined && path.repeatEvery > slowest && !said.has("PATH_REPEAT_SLOW"))
    findings.push({
      ...siteFinding(
        "DUTY_REPEAT_TOO_SLOW",
        `The message of path ${path.id} is repeated every ${path.repeatEvery} min, and the rule asks for at most ${slowest} min. Repeat it at least that often.`,
      ),
      ...sourceOf(needs.repeatEveryMinutes),
    });
  return findings;
}

/** A finding that holds a path against a number of the rule says where that number is from. */
function sourceOf(value: Sourced<number> | undefined): Partial<Provenance> {
  return value === undefined ? {} : { source: value.source, tag: value.tag };
}

/** The findings of an array whose duty its paths do not fulfil. */
export function unfulfilled(
  array: ArrayAssessment,
  serving: readonly PathAssessment[],
): readonly AssessmentFinding[] {
  if (array.duty.alarm !== "required") return [];
  const must = `Array ${array.array} must have an earth-fault alarm`;
  if (serving.length === 0) {
    const text = `${must} and no path serves it, so nobody learns of a fault. Provide a message, an annunciator or an indicator for it, and prove it.`;
    return [siteFinding("DUTY_NO_PATH", text)];
  }
  if (serving.some((path) => path.verdict === "meets")) return [];
  const verdicts = listed(serving.map(({ path, verdict }) => `path ${path} ${verdictWords[verdict]}`));
  return serving.every((path) => path.verdict === "falls-short")
    ? [
        siteFinding(
          "DUTY_NO_SOUND_PATH",
          `${must} and has none that works: ${verdicts}. Mend the faults of the path nearest to sound, then prove it.`,
        ),
      ]
    : [
        siteFinding(
          "DUTY_PATH_UNPROVEN",
          `${must} and none is known to work: ${verdicts}. Supply what the findings of the path name as missing, then prove it from detector to person.`,
        ),
      ];
}
