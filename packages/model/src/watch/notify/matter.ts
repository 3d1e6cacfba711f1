import type { Alarm } from "../alarm/alarm.ts";
import type { Case } from "../case/case.ts";
import type { Drill } from "../drill/drill-record.ts";

/** Something that people are told of: alarms (of a case, or of a detector or path that wants looking after), or a drill. */
export type Matter = AlarmMatter | DrillMatter;

export interface AlarmMatter {
  readonly kind: "alarms";
  /** Id of the case; of the alarm where there is no case. */
  readonly id: string;
  readonly site: string;
  readonly alarms: readonly Alarm[];
  /** Signed close of the case: from then on its alarms speak for another case, or for none. */
  readonly closedAt: number | null;
}

export interface DrillMatter {
  readonly kind: "drill";
  readonly id: string;
  readonly site: string;
  readonly drill: Drill;
}

/** @param alarms  the alarms that the case names, as they are now */
export function matterOfCase(one: Case, alarms: readonly Alarm[]): AlarmMatter {
  return { kind: "alarms", id: one.id, site: one.site, alarms, closedAt: one.closed?.at ?? null };
}

/** For an alarm outside a case: insulation that drifts, a detector that is stuck or silent, a path that is silent. */
export function matterOfAlarm(alarm: Alarm): AlarmMatter {
  return { kind: "alarms", id: alarm.id, site: alarm.site, alarms: [alarm], closedAt: null };
}

/**
 * Everything of a site, or of many, that people may have to be told of: each case, and each alarm that no open case has
 * taken in. A closed case stays among them until everybody has had the word that it closed.
 */
export function mattersOf(cases: readonly Case[], alarms: readonly Alarm[]): readonly AlarmMatter[] {
  const byId = new Map(alarms.map((alarm) => [alarm.id, alarm]));
  const inOpenCase = new Set(cases.filter(({ closed }) => closed === null).flatMap((one) => one.alarms));
  return [
    ...cases.map((one) =>
      matterOfCase(
        one,
        one.alarms.flatMap((id) => byId.get(id) ?? []),
      ),
    ),
    ...alarms.filter(({ id }) => !inOpenCase.has(id)).map(matterOfAlarm),
  ];
}

export function matterOfDrill(drill: Drill): DrillMatter {
  return { kind: "drill", id: drill.id, site: drill.site, drill };
}
