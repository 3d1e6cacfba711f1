import type { Alarm } from "@earthbell/model";
import { alarmsSpokenOf, capital, happenedPart, siteName, tellsOfFault, titleOf } from "./alarm-facts.ts";
import { againPart, alarmAcknowledgePart, referencePart } from "./answering.ts";
import { cautionPart, isOfTheTrade, ownerSteps, TRADE_STEPS } from "./cautions.ts";
import type { AlarmOccasion } from "./occasion.ts";
import { oneLine } from "./one-line.ts";
import type { Part } from "./part.ts";

/** Subject and parts of a message about alarms, in the order in which they are read: cautions before any step. */
export function alarmMessage(occasion: AlarmOccasion): {
  readonly subject: string;
  readonly parts: readonly Part[];
} {
  const alarms = alarmsSpokenOf(occasion);
  const lead = leadOf(occasion, alarms);
  const title = alarms.length === 0 ? "alarm" : titleOf(alarms[0]!);
  const more = alarms.length > 1 ? ` and ${alarms.length - 1} more` : "";
  const subject = `${lead}: ${siteName(occasion)}, ${title}${more}`;
  return {
    subject,
    parts: [
      { lines: [openingOf(occasion, alarms)] },
      cautionPart(occasion),
      stepsOf(occasion, alarms),
      happenedPart(occasion, alarms),
      whyPart(occasion),
      alarmAcknowledgePart(occasion),
      againPart(occasion, alarms),
      referencePart(
        occasion,
        `Site ${oneLine(occasion.site.id)}, matter ${oneLine(occasion.matter.id)}, path ${oneLine(occasion.path.id)}, message ${occasion.sequence}.`,
        occasion.now,
      ),
    ],
  };
}

/** Nothing of it is there now. */
function isOver(alarms: readonly Alarm[]): boolean {
  return alarms.every(({ condition }) => condition === "clear");
}

function leadOf({ kind, matter }: AlarmOccasion, alarms: readonly Alarm[]): string {
  const fault = tellsOfFault(alarms);
  if (matter.closedAt !== null) return "Closed";
  if (kind === "cleared") return fault ? "Cleared, not repaired" : "In order again";
  const name = fault ? "Alarm" : "Needs looking after";
  if (kind === "escalation") return `${name}, passed on to you`;
  if (kind === "first") return name;
  return fault && isOver(alarms) ? "Cleared, no cause signed" : `${name}, again`;
}

function openingOf(occasion: AlarmOccasion, alarms: readonly Alarm[]): string {
  const { kind, matter } = occasion;
  const name = siteName(occasion);
  const fault = tellsOfFault(alarms);
  if (matter.closedAt !== null)
    return `The case at ${name} is closed: its cause was signed by a named person. See what happened below.`;
  if (kind === "cleared" && fault)
    return `The alarm at ${name} has cleared. That is not a repair: such faults go when it dries and come back when it is wet.`;
  if (kind === "cleared") return `What was reported at ${name} is in order again.`;
  if (!fault)
    return `Something that should warn of an earth fault at ${name} wants looking after. No fault is reported.`;
  if (isOver(alarms))
    return `The solar system at ${name} had an alarm that has cleared. Nobody has signed what caused it.`;
  const told = kind === "escalation" ? " The people told before you have not answered." : "";
  return `${capital(isOfTheTrade(occasion) ? "earth-fault alarm" : "the alarm of the solar system")} at ${name} has operated. Take it as real.${told}`;
}

function stepsOf(occasion: AlarmOccasion, alarms: readonly Alarm[]): Part {
  if (occasion.matter.closedAt !== null) return {};
  if (tellsOfFault(alarms)) return isOfTheTrade(occasion) ? TRADE_STEPS : ownerSteps(occasion);
  if (occasion.kind === "cleared") return {};
  return {
    heading: "Next",
    list: isOfTheTrade(occasion)
      ? [
          "Look first at what can be seen from the desk: link, power supply, the device's own report. That opens nothing.",
          "Until it is in order, somebody has to look at the site's own alarm by other means.",
        ]
      : [
          `Tell the person who looks after the system${contactWords(occasion)}.`,
          "Until it is in order, look at the fault light of the inverter once a day, from where you can see it without touching anything.",
        ],
  };
}

function contactWords({ site }: AlarmOccasion): string {
  return site.contact === undefined ? "" : `: ${oneLine(site.contact, 120)}`;
}

function whyPart({ path, person, reason }: AlarmOccasion): Part {
  return {
    heading: "Why you get this",
    list: [
      `You are on path ${oneLine(path.id)} of this site${person.role === undefined ? "" : ` as ${person.role}`}.`,
      oneLine(reason.text, 400),
    ],
  };
}
