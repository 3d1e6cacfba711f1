import { grounds, instantText, named } from "../grounds.ts";
import type { WatchLimits } from "../limits.ts";
import { type Delivery, messageToSend } from "./delivery.ts";
import type { DrillMatter } from "./matter.ts";
import { pathIntervalMs, readsNextAt } from "./question.ts";
import type { TellPath, TellPerson } from "./recipients.ts";
import { type Hold, held, type TellDecision } from "./tell-decision.ts";

function silent(because: Hold["because"], text: string, untilAt: number | null = null): TellDecision {
  return held({ because, by: null, untilAt }, grounds(text));
}

/** A drill goes to every recipient at once and is repeated like a fault until that recipient acknowledges or time is up. */
export function tellOfDrill(
  { id, drill }: DrillMatter,
  person: TellPerson,
  path: TellPath,
  last: Delivery | null,
  now: number,
  limits: WatchLimits,
): TellDecision {
  const recipient = drill.recipients.find((one) => one.person === person.id);
  if (recipient === undefined) return silent("not-on-the-path", `${person.id} takes no part in this drill.`);
  if (recipient.acknowledgedAt !== null)
    return silent("nothing-to-tell", `${person.id} acknowledged ${instantText(recipient.acknowledgedAt)}.`);
  if (drill.ended !== null || now >= drill.answerByAt) return silent("nothing-to-tell", "The drill is over.");
  const interval = pathIntervalMs(path, limits);
  if (last !== null && last.at <= now) {
    const dueAt = Math.min(last.at + interval, drill.answerByAt);
    if (now < dueAt) return silent("interval", `Drill: repeated at ${instantText(dueAt)}.`, dueAt);
    const readsAt = readsNextAt(person, now);
    if (readsAt !== null) {
      const until = Math.min(readsAt, drill.answerByAt);
      return silent("reading-hours", `${person.id} does not read before ${instantText(readsAt)}.`, until);
    }
  }
  const sequence = (last?.sequence ?? 0) + 1;
  const message = messageToSend({
    matter: id,
    path: path.id,
    person: person.id,
    kind: "drill",
    sequence,
    told: [],
  });
  const reason = grounds(
    sequence === 1 ? "Drill: first message." : "Drill: repeat, not acknowledged.",
    {},
    named(limits, "repeatMin"),
  );
  return {
    tell: true,
    kind: "drill",
    message,
    reason,
    nextLookAt: Math.min(now + interval, drill.answerByAt),
  };
}
