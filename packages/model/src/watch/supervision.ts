import type { Path } from "@earthbell/engine";
import {
  durationText,
  type Grounds,
  grounds,
  groundsInWords,
  inPlainWords,
  instantText,
  named,
} from "./grounds.ts";
import { WATCH_LIMITS, type WatchLimits } from "./limits.ts";
import { MINUTE } from "./time/span.ts";
import type { TellPath, TellPerson } from "./notify/recipients.ts";
import type { Sign } from "./sign.ts";

/** What is kept of one path so that its silence is a query: every row whose deadlineAt has passed. Plain JSON. */
export interface PathWatch {
  readonly site: string;
  readonly path: string;
  /** How often the path gives a sign of life [min]; null where nothing asks for one. */
  readonly lifeEveryMin: number | null;
  /** The last sign of life, or the start of the watch. */
  readonly lastLifeAt: number;
  /** Silence after this instant is a fault of the path; null where it is not supervised. */
  readonly deadlineAt: number | null;
  readonly silent: boolean;
}

/** How often a path gives a sign of life, by its site file [min]; null where nothing says so. */
export function lifeEveryMinOf(path: Path): number | null {
  return path.signal === "message" ? (path.link?.supervisedEvery ?? null) : null;
}

/** The interval and its grace: a sign of life may be late, since links queue and devices are busy at start-up. */
function deadlineAfter(lastLifeAt: number, lifeEveryMin: number | null, limits: WatchLimits): number | null {
  if (lifeEveryMin === null) return null;
  const graceMin = Math.max(limits.lifeGraceMin.value, limits.lifeGraceRatio.value * lifeEveryMin);
  return Math.round(lastLifeAt + (lifeEveryMin + graceMin) * MINUTE);
}

/** Begins to watch a path: it owes its first sign of life within one interval from now. */
export function watchPath(
  place: { readonly site: string; readonly path: string },
  lifeEveryMin: number | null,
  now: number,
  limits: WatchLimits = WATCH_LIMITS,
): PathWatch {
  const deadlineAt = deadlineAfter(now, lifeEveryMin, limits);
  return { ...place, lifeEveryMin, lastLifeAt: now, deadlineAt, silent: false };
}

/**
 * Takes a sign of life. One that comes late moves nothing back, and one from a clock that is ahead counts from now: it
 * must not buy the path a silence of years.
 */
export function signOfLife(
  watch: PathWatch,
  at: number,
  now: number,
  limits: WatchLimits = WATCH_LIMITS,
): PathWatch {
  const lastLifeAt = Math.max(watch.lastLifeAt, Math.min(at, now));
  return { ...watch, lastLifeAt, deadlineAt: deadlineAfter(lastLifeAt, watch.lifeEveryMin, limits) };
}

export interface Supervision {
  readonly watch: PathWatch;
  /** Feeds the alarm of the path; null when nothing changed. */
  readonly sign: Sign | null;
  readonly reason: Grounds;
}

/** Decides whether a path is silent at an instant. The deadline itself is still in time. */
export function supervise(watch: PathWatch, now: number, limits: WatchLimits = WATCH_LIMITS): Supervision {
  const { deadlineAt, lastLifeAt } = watch;
  const silent = deadlineAt !== null && now > deadlineAt;
  const reason = superviseReason(watch, now, limits);
  if (silent === watch.silent) return { watch, sign: null, reason };
  const sign: Sign = {
    site: watch.site,
    subject: { kind: "path", path: watch.path, person: null },
    sign: "path-silent",
    change: silent ? "set" : "cleared",
    at: silent ? now : lastLifeAt,
    key: JSON.stringify([watch.site, watch.path, "path-silent", silent ? "set" : "cleared", deadlineAt]),
    reason: inPlainWords(reason),
  };
  return { watch: { ...watch, silent }, sign, reason };
}

function superviseReason(watch: PathWatch, now: number, limits: WatchLimits): Grounds {
  const { path, lastLifeAt, deadlineAt, lifeEveryMin } = watch;
  if (deadlineAt === null || lifeEveryMin === null)
    return grounds(
      `Nothing supervises path ${path}: nobody would notice if it fell silent. Supervise its link.`,
    );
  const text =
    now <= deadlineAt
      ? () =>
          `Path ${path} gave a sign of life ${instantText(lastLifeAt)}; the next is due by ${instantText(deadlineAt)}.`
      : () =>
          `Path ${path} has been silent for ${durationText(now - lastLifeAt)}, since ${instantText(lastLifeAt)}. A fault would not be heard by it. Look at the link and its power supply.`;
  const words = () => ({ text: text(), limits: named(limits, "lifeGraceRatio", "lifeGraceMin") });
  return groundsInWords(words, { silentMin: Math.floor((now - lastLifeAt) / MINUTE), lifeEveryMin });
}

/**
 * What the addresses of a path's people say about the path: one alarm for each person who cannot be reached, to be told
 * to the others. Feeding the alarms with the same answer again changes nothing.
 */
export function recipientSigns(path: TellPath, people: readonly TellPerson[], now: number): readonly Sign[] {
  const ids = new Set([...path.to, ...(path.ladder ?? []).flatMap(({ to }) => to)]);
  return people
    .filter(({ id }) => ids.has(id))
    .map(({ id, broken }): Sign => {
      const change = broken === undefined ? "cleared" : "set";
      const at = broken?.sinceAt ?? now;
      const text =
        broken === undefined
          ? `Messages of path ${path.id} to ${id} arrive.`
          : `Messages of path ${path.id} to ${id} do not arrive since ${instantText(broken.sinceAt)}: ${broken.reason}. Correct the address, or name somebody else.`;
      return {
        site: path.site,
        subject: { kind: "path", path: path.id, person: id },
        sign: "path-silent",
        change,
        at,
        key: JSON.stringify([path.site, path.id, id, "path-silent", change, at]),
        reason: grounds(text),
      };
    });
}
