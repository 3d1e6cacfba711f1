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
  const inside = cuts.filter((cut) => cut > from && cut < to);
  if (inside.length === 0) return [stretch];
  inside.sort((a, b) => a - b);
  const edges = [from, ...inside, to];
  return edges.slice(1).map((edge, i) => ({
    from: edges[i]!,
    to: edge,
    share: (share * (edge - edges[i]!)) / (to - from),
  }));
}

interface Light {
  readonly from: UtcMinute;
  readonly to: UtcMinute;
}

/** The days around one: when the inverter starts, and the light in which it then runs. */
interface Around {
  readonly dayNumber: number;
  readonly starts: readonly UtcMinute[];
  readonly light: readonly Light[];
  /** Edges of the light. */
  readonly edges: readonly UtcMinute[];
}

function around(dayNumber: number, { day }: Daylight): Around {
  const found = { dayNumber, starts: [] as number[], light: [] as Light[], edges: [] as number[] };
  for (let number = dayNumber - 1; number <= dayNumber + 1; number++) {
    const { light, start } = day(number);
    if (start !== null) found.starts.push(start);
    if (light === null) continue;
    const from = start ?? light.from;
    found.light.push({ from, to: light.to });
    found.edges.push(from, light.to);
  }
  return found;
}

function whileRunning(
  stretch: OnsetStretch,
  { dayNumber, light, edges }: Around,
  days: Daylight,
): readonly Detection[] {
  return parts(stretch, edges).map(({ from, to, share }) => {
    const middle = (from + to) / 2;
    const lit = light.some((span) => middle >= span.from && middle < span.to);
    return { from, to, share, at: lit ? "at-onset" : nextLight(middle, dayNumber, days) };
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

function atStart(stretch: OnsetStretch, { dayNumber, starts }: Around, days: Daylight): readonly Detection[] {
  return parts(stretch, starts).map(({ from, to, share }) => {
    const at = days.nextStart((from + to) / 2, dayNumber);
    return { from, to, share, at: at === Infinity ? "never" : at };
  });
}

/**
 * When the faults of stretches near one day are detected.
 *
 * A start check sees every fault, but only when the inverter starts: nothing between two starts, and nothing in a polar
 * day, when it never stops. A continuous check sees it while there is light. A residual-current monitor sees its share
 * while running; the rest waits for the start check, or for ever where there is none.
 */
export function detections(
  stretches: readonly OnsetStretch[],
  dayNumber: number,
  detector: NoticeDetector,
  days: Daylight,
): readonly Detection[] {
  if (detector.perfect === true) return stretches.map((stretch) => ({ ...stretch, at: "at-onset" }));
  const running = seenRunning(detector);
  const near = around(dayNumber, days);
  const found: Detection[] = [];
  for (const { from, to, share } of stretches) {
    if (running > 0) found.push(...whileRunning({ from, to, share: share * running }, near, days));
    if (running === 1) continue;
    const rest = { from, to, share: share * (1 - running) };
    if (detector.atStart) found.push(...atStart(rest, near, days));
    else found.push({ ...rest, at: "never" });
  }
  return found;
}
