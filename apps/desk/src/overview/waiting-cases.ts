import { type Alarm, type Case, SIGNS } from "@earthbell/model";
import { sql } from "kysely";
import type { Asking } from "../store/index.ts";
import { othersFirst } from "../others-first.ts";
import { ofSites, type Seen } from "./bound-to.ts";
import { Foremost } from "./foremost.ts";

/** A case as a list shows it. */
export type CaseBrief = Omit<Case, "timeline">;

/** Records that are read before other work of the desk gets its turn. */
const AT_ONCE = 500;

/** Every active alarm, the longest list of a storm, a portion at a time. */
async function* activeAlarms(db: Asking, seen: Seen): AsyncGenerator<readonly Alarm[]> {
  for (let after = { site: "", id: "" }; ; ) {
    const rows = await db
      .selectFrom("alarm")
      .select(["site", "id", "alarm_json"])
      .where("condition", "=", "active")
      .where(ofSites(seen))
      .where(sql<boolean>`(site, id) > (${after.site}, ${after.id})`)
      .orderBy("site")
      .orderBy("id")
      .limit(AT_ONCE)
      .execute();
    yield rows.map(({ alarm_json }) => JSON.parse(alarm_json) as Alarm);
    if (rows.length < AT_ONCE) return;
    after = rows.at(-1)!;
    await othersFirst();
  }
}

/** Open cases, the newest first, a portion at a time. */
async function* openCases(db: Asking, seen: Seen): AsyncGenerator<readonly CaseBrief[]> {
  for (let after: { readonly at: number; readonly id: string } | null = null; ; ) {
    let query = db
      .selectFrom("fault_case")
      .select(["id", "opened_at as at", "case_json"])
      .where("closed_at", "is", null)
      .where(ofSites(seen))
      .orderBy("opened_at", "desc")
      .orderBy("id", "desc")
      .limit(AT_ONCE);
    if (after !== null) query = query.where(sql<boolean>`(opened_at, id) < (${after.at}, ${after.id})`);
    const rows: readonly { readonly id: string; readonly at: number; readonly case_json: string }[] =
      await query.execute();
    yield rows.map(({ case_json }) => {
      const { timeline: _, ...brief } = JSON.parse(case_json) as Case;
      return brief;
    });
    if (rows.length < AT_ONCE) return;
    after = rows.at(-1)!;
    await othersFirst();
  }
}

/** The foremost of each kind, and how many there are of it. */
export interface WaitingFaults {
  /** Cases with a fault that nobody has answered, with one that is there still, and those that lack a step. */
  readonly unanswered: Foremost<CaseBrief>;
  readonly present: Foremost<CaseBrief>;
  readonly unsigned: Foremost<CaseBrief>;
  /** Alarms of paths that are silent, of drills that were missed, and of detectors. */
  readonly silent: Foremost<Alarm>;
  readonly missed: Foremost<Alarm>;
  readonly upkeep: Foremost<Alarm>;
  /** Active signs that insulation sinks, by `site/array`. */
  readonly sinking: ReadonlyMap<string, Alarm>;
  /** Arrays with a fault that is there, as `site/array`. */
  readonly withFault: ReadonlySet<string>;
  /** Active alarms of the cases that are named. */
  readonly ofCases: readonly Alarm[];
  /** Sites with an active alarm. */
  readonly signed: ReadonlySet<string>;
  /** Paths with a missed drill, as `site path`. */
  readonly missedPaths: ReadonlySet<string>;
}

interface AskedFaults {
  /** So many of each kind are named. */
  readonly most: number;
  /** Arrays, by `site/array`, of whose sinking insulation is told elsewhere: the sign is not told a second time. */
  readonly due: { has(array: string): boolean };
}

/** Faults and what would not tell of them, by how far they are. */
export async function waitingFaults(
  db: Asking,
  seen: Seen,
  { most, due }: AskedFaults,
): Promise<WaitingFaults> {
  const newest = (one: Alarm, other: Alarm): number => (other.activeAt ?? 0) - (one.activeAt ?? 0);
  const foremost = () => new Foremost<Alarm>(most, newest);
  const [silent, missed, upkeep] = [foremost(), foremost(), foremost()];
  const faults = new Map<string, Alarm>();
  const signed = new Set<string>();
  const missedPaths = new Set<string>();
  const sinking = new Map<string, Alarm>();
  const withFault = new Set<string>();
  for await (const portion of activeAlarms(db, seen))
    for (const alarm of portion) {
      signed.add(alarm.site);
      if (SIGNS[alarm.sign].opensCase) faults.set(alarm.id, alarm);
      if (alarm.sign === "path-silent") silent.add(alarm);
      else if (alarm.sign === "drill-missed") {
        missed.add(alarm);
        if (alarm.subject.kind === "path") missedPaths.add(`${alarm.site} ${alarm.subject.path}`);
      } else if (isOfDetector(alarm)) {
        const array = sinkingArray(alarm);
        if (array !== null) sinking.set(array, alarm);
        if (array === null || !due.has(array)) upkeep.add(alarm);
      }
    }
  const cases = () => new Foremost<CaseBrief>(most, (one, other) => other.openedAt - one.openedAt);
  const [unanswered, present, unsigned] = [cases(), cases(), cases()];
  for await (const portion of openCases(db, seen))
    for (const one of portion) {
      const own = one.alarms.flatMap((id) => faults.get(id) ?? []);
      if (own.some(({ acknowledged, sign }) => acknowledged === null && SIGNS[sign].opensCase))
        unanswered.add(one);
      else (one.presentAlarms.length > 0 ? present : unsigned).add(one);
      if (one.presentAlarms.length > 0) withFault.add(`${one.site}/${one.array}`);
    }
  const named = [unanswered, present, unsigned].flatMap((kind) => kind.first);
  const ofCases = named.flatMap(({ alarms }) => alarms.flatMap((id) => faults.get(id) ?? []));
  const kinds = { unanswered, present, unsigned, silent, missed, upkeep };
  return { ...kinds, sinking, withFault, ofCases, signed, missedPaths };
}

function sinkingArray({ sign, site, subject }: Alarm): string | null {
  return sign === "insulation-drifting" && subject.kind === "array" ? `${site}/${subject.array}` : null;
}

/** A sign of the array that tells of no fault there, but of what would not see one. */
function isOfDetector({ sign, subject }: Alarm): boolean {
  return subject.kind === "array" && !SIGNS[sign].faultPresent && sign !== "dawn-recurring";
}
