import { type Alarm, SIGNS, WATCH_LIMITS } from "@earthbell/model";
import { instantWords } from "./instant-words.ts";
import type { AlarmOccasion, Occasion } from "./occasion.ts";
import type { Part } from "./part.ts";

/** Where to acknowledge, and what that does and does not do. */
export function acknowledgePart(occasion: Occasion, does: readonly string[]): Part {
  const { acknowledgeUrl } = occasion;
  if (acknowledgeUrl === undefined) return {};
  return {
    heading: "Acknowledge here",
    lines: [acknowledgeUrl],
    list: ["The page says what it will do before it does it.", ...does],
  };
}

/** Stops of the repeats; a path that names none is stopped by either. */
function stopsAt({ path }: AlarmOccasion, event: "acknowledged" | "cleared"): boolean {
  return path.until === undefined || path.until.length === 0 || path.until.includes(event);
}

export function alarmAcknowledgePart(occasion: AlarmOccasion): Part {
  const { acknowledgementHoldsH } = occasion.limits ?? WATCH_LIMITS;
  const quiets = stopsAt(occasion, "acknowledged")
    ? `It keeps the messages of this path quiet for ${acknowledgementHoldsH.value} h, for everybody on it. What is still there then is told again.`
    : "It does not stop the messages of this path, which go on until the fault has cleared.";
  return acknowledgePart(occasion, [
    "Acknowledging says that you know of this and see to it, under your name.",
    "It repairs nothing, clears nothing and closes no case.",
    quiets,
  ]);
}

/** When the message comes again, and what stops it. */
export function againPart(occasion: AlarmOccasion, alarms: readonly Alarm[]): Part {
  const { kind, matter } = occasion;
  const limits = occasion.limits ?? WATCH_LIMITS;
  const unsigned = matter.closedAt === null && matter.alarms.some(({ latched }) => latched);
  if (matter.closedAt !== null)
    return again("Not again. A fault of this array that comes back opens a new case.");
  if (
    kind === "cleared" ||
    alarms.every(({ condition, acknowledged }) => condition === "clear" && acknowledged !== null)
  )
    return again(
      unsigned
        ? `Every ${limits.unsignedReminderD.value} d, until a named person signs what caused it.`
        : "Not again, unless it comes back.",
    );
  const byPath = alarms.some(({ sign }) => SIGNS[sign].repeats === "as-the-path-says");
  const everyMin = byPath
    ? Math.max(1, occasion.path.repeatEveryMin ?? limits.repeatMin.value)
    : limits.upkeepRepeatMin.value;
  const stops = [
    ...(stopsAt(occasion, "acknowledged") ? ["somebody acknowledges"] : []),
    ...(stopsAt(occasion, "cleared") ? ["it has cleared"] : []),
  ].join(" or ");
  return again(
    `Every ${minutesWords(everyMin)}, until ${stops}. Repeats keep to your reading hours where the site names them.`,
  );
}

function again(line: string): Part {
  return { heading: "When you hear of it again", lines: [line] };
}

function minutesWords(minutes: number): string {
  return minutes % 60 === 0 && minutes >= 120 ? `${minutes / 60} h` : `${minutes} min`;
}

/** What one needs to find the message's matter at the desk. */
export function referencePart(occasion: Occasion, reference: string, writtenAt?: number): Part {
  const written = writtenAt === undefined ? "" : ` Written ${instantWords(writtenAt, occasion.site.zone)}.`;
  return { lines: [`${reference}${written}`] };
}
