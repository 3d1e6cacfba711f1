import type { UtcMinute } from "../sun/sun-times.ts";
import type { Daylight } from "./daylight.ts";
import type { NoticeDetector } from "./notice-model.ts";
import type { OnsetStretch } from "./onset.ts";

/** Faults born evenly over a stretch and detected together, at once, or never. */
export interface Detection {
  readonly from: UtcMinute;
  readonly to: UtcMinute;
  readonly share: number;
  /** One instant for all; "at-onset": each when it is born; "never". */
  readonly at: UtcMinute | "at-onset" | "never";
}

/** Share of faults that a detector sees while the inverter runs. */
function seenRunning({ continuous, residualShare }: NoticeDetector): number {
  return continuous ? 1 : Math.max(0, Math.min(1, residualShare));
}

function parts(stretch: OnsetStretch, cuts: readonly UtcMinute[]): readonly OnsetStretch[] {
  const { from, to, share } = stretch;
  if (!(to > from)) return [stretch];
  const inside = cuts.filter((cut) => cut > from && cut < to).sort((a, b) => a - b);
  const edges = [from, ...inside, to];
  return edges.slice(1).map((edge, i) => ({
    from: edges[i]!,
    to: edge,
    share: (share * (edge - edges[i]!)) / (to - from),
  }));
}

/** Starts of the days around `dayNumber`, at which the instant of detection jumps. */
function startsAround(dayNumber: number, { day }: Daylight): readonly UtcMinute[] {
  return [-1, 0, 1].flatMap((offset) => day(dayNumber + offset).start ?? []);
}

function whileRunning(stretch: OnsetStretch, dayNumber: number, days: Daylight): readonly Detection[] {
  const light = [-1, 0, 1].flatMap((offset) => {
    const { light: span, start } = days.day(dayNumber + offset);
    return span === null ? [] : [{ from: start ?? span.from, to: span.to }];
  });
  const cuts = light.flatMap(({ from, to }) => [from, to]);
  return parts(stretch, cuts).map((part) => {
    const middle = (part.from + part.to) / 2;
    const lit = light.some(({ from, to }) => middle >= from && middle < to);
    return { ...part, at: lit ? "at-onset" : nextLight(middle, dayNumber, days) };
  });
}

/** When the inverter next runs: at the next start, or at the first midnight of a polar day. */
function nextLight(after: UtcMinute, dayNumber: number, { day }: Daylight): UtcMinute | "never" {
  for (let number = dayNumber - 1; number < dayNumber + 400; number++) {
    const { light, start } = day(number);
    const from = start ?? light?.from;
    if (from !== undefined && from >= after) return from;
  }
  return "never";
}

function atStart(stretch: OnsetStretch, dayNumber: number, days: Daylight): readonly Detection[] {
  return parts(stretch, startsAround(dayNumber, days)).map((part) => {
    const at = days.nextStart((part.from + part.to) / 2, dayNumber);
    return { ...part, at: at === Infinity ? "never" : at };
  });
}

/**
 * When the faults of a stretch are detected.
 *
 * A start check sees every fault, but only when the inverter starts: nothing between two starts, and nothing in a polar
 * day, when it never stops. A continuous check sees it while there is light. A residual-current monitor sees its share
 * while running; the rest waits for the start check, or for ever where there is none.
 */
export function detections(
  stretch: OnsetStretch,
  dayNumber: number,
  detector: NoticeDetector,
  days: Daylight,
): readonly Detection[] {
  if (detector.perfect === true) return [{ ...stretch, at: "at-onset" }];
  const running = seenRunning(detector);
  const found: Detection[] = [];
  if (running > 0)
    found.push(...whileRunning({ ...stretch, share: stretch.share * running }, dayNumber, days));
  if (running < 1) {
    const rest = { ...stretch, share: stretch.share * (1 - running) };
    if (detector.atStart) found.push(...atStart(rest, dayNumber, days));
    else found.push({ ...rest, at: "never" });
  }
  return found;
}
