import type { IndicatorPath, MessagePath, Path } from "../assess/site.ts";
import { pathCode } from "../path/codes.ts";
import { judgeIndicator } from "../path/indicator.ts";
import type { Remark } from "../path/judgement.ts";
import { reachableRecipients } from "../path/recipients.ts";
import type { AdviceAnswers, QuestionId } from "./answers.ts";
import { siteAsPlanned } from "./planned-site.ts";

/** Whether a signal can serve at this site, and why not; `unknown` names the questions that would tell. */
export interface PossibleSignal {
  readonly signal: Path["signal"];
  readonly state: "possible" | "ruled-out" | "unknown";
  readonly why: string;
  readonly open: readonly QuestionId[];
}

type Judged = Omit<PossibleSignal, "signal">;

const ruledOut = (why: string): Judged => ({ state: "ruled-out", why, open: [] });
const unknown = (why: string, open: readonly QuestionId[]): Judged => ({ state: "unknown", why, open });

function byRemarks(remarks: readonly Remark[], possible: string, open: QuestionId): Judged {
  const first = (effect: ReturnType<typeof pathCode>["effect"]): Remark | undefined =>
    remarks.find(({ code }) => pathCode(code).effect === effect);
  const refused = first("falls-short");
  if (refused !== undefined) return ruledOut(refused.text);
  const undecided = first("cannot-tell");
  return undecided === undefined
    ? { state: "possible", why: possible, open: [] }
    : unknown(undecided.text, [open]);
}

function message(answers: AdviceAnswers): Judged {
  const { network, people } = answers;
  if (network === "none")
    return ruledOut(
      "No network reaches the inverter. A mobile modem would bring one: answer mobile to see what it gives.",
    );
  const open = (["network", "people"] as const).filter((id) => answers[id] === undefined);
  if (network === undefined || people === undefined)
    return unknown("It is not known whether a message can leave the site, or who would read it.", open);
  const site = siteAsPlanned(answers, ["message"]);
  const { reachable } = reachableRecipients(site.paths[0] as MessagePath, { site });
  return reachable.length === 0
    ? ruledOut("Nobody named reads messages, so a message reaches nobody. Name two people who do.")
    : {
        state: "possible",
        why: `A message can reach ${reachable.map(({ id }) => id).join(", ")}.`,
        open: [],
      };
}

function annunciator(answers: AdviceAnswers): Judged {
  const { relay, present } = answers;
  if (relay === "none")
    return ruledOut(
      "The inverter has no fault contact. A separate insulation monitor with a contact of its own would switch a sounder.",
    );
  if (present?.length === 0) return ruledOut("Nobody is ever within hearing, so a sounder alarms nobody.");
  const open = (["relay", "present"] as const).filter((id) => answers[id] === undefined);
  if (open.length > 0)
    return unknown("It is not known whether a sounder can be switched, or who would hear it.", open);
  return {
    state: "possible",
    why: "A contact can switch a sounder or beacon where somebody is.",
    open: [],
  };
}

function indicator(answers: AdviceAnswers): Judged {
  const site = siteAsPlanned(answers, ["indicator"]);
  const remarks = judgeIndicator(site.paths[0] as IndicatorPath, { site });
  return byRemarks(remarks, "Somebody who knows the inverter's light passes it.", "light");
}

const JUDGES: Readonly<Record<Path["signal"], (answers: AdviceAnswers) => Judged>> = {
  message,
  annunciator,
  indicator,
};

/** The three signals, each possible here, ruled out with the reason, or open with what to ask. */
export function possibleSignals(answers: AdviceAnswers): readonly PossibleSignal[] {
  return (Object.keys(JUDGES) as Path["signal"][]).map((signal) => ({ signal, ...JUDGES[signal](answers) }));
}
