import { grounds, instantText, named } from "../grounds.ts";
import { DAY, MINUTE } from "../time/span.ts";
import { type MessageKind, messageToSend, toldAfter } from "./delivery.ts";
import { lastSentAt, personHold, type Question, readsNextAt, rungOf } from "./question.ts";
import { held, type TellDecision } from "./tell-decision.ts";

/** Nothing speaks: say once that it has cleared to those who were told, then bring what is unsigned to mind now and then. */
export function tellOfClearing(question: Question): TellDecision {
  const { matter, last, now, limits } = question;
  const toldActive = new Set(last?.told.flatMap((told) => (told.condition === "active" ? [told.alarm] : [])));
  const cleared = matter.alarms.filter(({ id }) => toldActive.has(id));
  if (cleared.length === 0) return remindOfSignature(question);
  if (matter.closedAt !== null)
    return send(question, "cleared", `Closed: its cause was signed; closed ${instantText(matter.closedAt)}.`);
  const clearedAt = Math.max(...cleared.map((alarm) => alarm.clearedAt ?? now));
  const settledAt = clearedAt + limits.settledMin.value * MINUTE;
  const by = named(limits, "settledMin");
  if (now < settledAt) {
    const text = `Cleared ${instantText(clearedAt)}; told as cleared if it stays so until ${instantText(settledAt)}.`;
    return held({ because: "settling", by: null, untilAt: settledAt }, grounds(text, {}, by));
  }
  const latched = matter.alarms.some((alarm) => alarm.latched);
  const unsigned = latched ? " The case stays open until a cause is signed." : "";
  return send(question, "cleared", `Cleared: since ${instantText(clearedAt)}.${unsigned}`);
}

function remindOfSignature(question: Question): TellDecision {
  const { matter, person, path, now, limits } = question;
  const latched = matter.alarms.filter((alarm) => alarm.latched);
  if (latched.length === 0 || matter.closedAt !== null || rungOf(person, path) !== 0)
    return held({ because: "nothing-to-tell", by: null, untilAt: null }, grounds("Nothing is left to tell."));
  const sinceAt = lastSentAt(question) ?? Math.max(...latched.map((alarm) => alarm.clearedAt ?? now));
  const dueAt = sinceAt + limits.unsignedReminderD.value * DAY;
  const by = named(limits, "unsignedReminderD");
  if (now < dueAt) {
    const text = `Cleared, no cause signed: brought to mind again at ${instantText(dueAt)}.`;
    return held({ because: "interval", by: null, untilAt: dueAt }, grounds(text, {}, by));
  }
  const readsAt = readsNextAt(person, now);
  if (readsAt !== null) {
    const text = `${person.id} does not read before ${instantText(readsAt)}.`;
    return held({ because: "reading-hours", by: null, untilAt: readsAt }, grounds(text));
  }
  return send(question, "repeat", "Repeat: the fault has cleared and nobody has signed its cause.");
}

function send(question: Question, kind: MessageKind, text: string): TellDecision {
  const { matter, person, path, last, now, limits } = question;
  const found = personHold(person, path, now, DAY);
  if (found !== null) return held(found.hold, grounds(found.text));
  const message = messageToSend({
    matter: matter.id,
    path: path.id,
    person: person.id,
    kind,
    sequence: (last?.sequence ?? 0) + 1,
    told: toldAfter(last?.told ?? [], matter.alarms).map((told) => ({ ...told, condition: "clear" })),
  });
  const nextLookAt = now + limits.unsignedReminderD.value * DAY;
  return { tell: true, kind, message, reason: grounds(text), nextLookAt };
}
