import type { AlarmNeeds, RulePack } from "../rules/pack.ts";
import type { ArrayAssessment, AssessmentFinding, PathAssessment } from "./assessment.ts";
import { siteFinding } from "./codes.ts";
import type { Path } from "./site.ts";

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
    ...naming("DUTY_SERVED", "An alarm is required on", required),
    ...naming("DUTY_SERVED_UNDECIDED", "Whether an alarm is required is not settled for", undecided),
    ...(served.length > 1
      ? [siteFinding("DUTY_PATH_SHARED", `Serves ${served.map(({ array }) => array).join(", ")}.`)]
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
  text: string,
  arrays: readonly ArrayAssessment[],
): readonly AssessmentFinding[] {
  if (arrays.length === 0) return [];
  const list = arrays.map(({ array, duty }) =>
    duty.rulePack === null ? array : `${array} (${duty.rulePack})`,
  );
  return [siteFinding(code, `${text} ${list.join(", ")}.`)];
}

/** The practice of the trade is judged with the path itself; only a pack that asks for more is heard here. */
function againstNeeds(path: Path, needs: AlarmNeeds, judged: PathAssessment): readonly AssessmentFinding[] {
  const said = new Set(judged.findings.map((finding) => finding.code));
  const findings: AssessmentFinding[] = [];
  if (!needs.signals.value.includes(path.signal))
    findings.push(
      siteFinding(
        "DUTY_SIGNAL_NOT_ACCEPTED",
        `Accepted: ${needs.signals.value.join(", ")}. This one: ${path.signal}.`,
      ),
    );
  if (path.signal !== "message") return findings;
  const least = needs.leastAddresses?.value ?? 1;
  if (path.to.length < least && !said.has("PATH_RECIPIENTS_TOO_FEW") && !said.has("PATH_RECIPIENTS_NONE"))
    findings.push(siteFinding("DUTY_TOO_FEW_ADDRESSES", `${path.to.length} of at least ${least}.`));
  const slowest = needs.repeatEveryMinutes?.value ?? Infinity;
  if (path.repeatEvery !== undefined && path.repeatEvery > slowest && !said.has("PATH_REPEAT_SLOW"))
    findings.push(
      siteFinding("DUTY_REPEAT_TOO_SLOW", `Every ${path.repeatEvery} min; at most ${slowest} min is asked.`),
    );
  return findings;
}

/** The findings of an array whose duty its paths do not fulfil. */
export function unfulfilled(
  array: ArrayAssessment,
  serving: readonly PathAssessment[],
): readonly AssessmentFinding[] {
  if (array.duty.alarm !== "required") return [];
  if (serving.length === 0) return [siteFinding("DUTY_NO_PATH", `No path serves array ${array.array}.`)];
  if (serving.some((path) => path.verdict === "meets")) return [];
  const verdicts = serving.map((path) => `${path.path} ${path.verdict}`).join(", ");
  const hopeless = serving.every((path) => path.verdict === "falls-short");
  return [
    siteFinding(
      hopeless ? "DUTY_NO_SOUND_PATH" : "DUTY_PATH_UNPROVEN",
      `Array ${array.array} is served by: ${verdicts}.`,
    ),
  ];
}
