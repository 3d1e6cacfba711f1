import {
  type Alarm,
  type AlarmEvent,
  type AlarmMatter,
  type Drill,
  newAlarm,
  type SignKind,
  type TellPath,
  transition,
} from "@earthbell/model";
import type {
  AlarmOccasion,
  DrillOccasion,
  NoticeOccasion,
  StormOccasion,
  UncleanStopOccasion,
} from "./occasion.ts";

/** Monday, 1 June 2026, 05:12 UTC: 07:12 in Berlin. */
export const T = Date.UTC(2026, 5, 1, 5, 12);
export const HOUR = 3_600_000;
export const ANSWER_URL = "https://desk.example/a/7Hq";

export const P1: TellPath = {
  id: "P1",
  site: "tarn",
  to: ["ann", "ben"],
  repeatEveryMin: 60,
  until: ["acknowledged", "cleared"],
};

function moved(alarm: Alarm, event: AlarmEvent, at: number): Alarm {
  const step = transition(alarm, event, at);
  if (!step.ok) throw new Error(step.refusal.code);
  return step.alarm;
}

export function setAlarm(sign: SignKind = "insulation-low"): Alarm {
  const subject =
    sign === "path-silent" || sign === "drill-missed"
      ? ({ kind: "path", path: "P1", person: sign === "drill-missed" ? "ben" : null } as const)
      : ({ kind: "array", array: "A1" } as const);
  return moved(newAlarm(`A1 ${sign}`, "tarn", subject, sign), { type: "set" }, T);
}

export function clearedAlarm(sign: SignKind = "insulation-low"): Alarm {
  return moved(setAlarm(sign), { type: "cleared" }, T + HOUR);
}

export function acknowledgedAlarm(): Alarm {
  return moved(setAlarm(), { type: "acknowledge", by: "ben" }, T + HOUR);
}

export function matterOf(...alarms: readonly Alarm[]): AlarmMatter {
  return { kind: "alarms", id: "C1", site: "tarn", alarms, closedAt: null };
}

/** Ann owns the mill at Tarn; she is told by mail. */
const toAnn = {
  channel: "email",
  person: { id: "ann", role: "owner" },
  site: { id: "tarn", name: "Tarn Mill", zone: "Europe/Berlin", contact: "Holm Solar, +00 5550 1234" },
  acknowledgeUrl: ANSWER_URL,
} as const;

export function toldOf(alarm: Alarm, change: Partial<AlarmOccasion> = {}): AlarmOccasion {
  return {
    ...toAnn,
    about: "alarms",
    matter: matterOf(alarm),
    path: P1,
    kind: "first",
    sequence: 1,
    reason: { text: "First: insulation below its threshold.", figures: {}, limits: [] },
    now: T + 60_000,
    ...change,
  };
}

const drill: Drill = {
  id: "D1",
  site: "tarn",
  path: "P1",
  trigger: "scheduled",
  by: null,
  startedAt: T,
  answerByAt: T + 24 * HOUR,
  recipients: [{ person: "ann", acknowledgedAt: null }],
  leftOut: [],
  ended: null,
};

export const drilled: DrillOccasion = { ...toAnn, about: "drill", drill, path: P1, sequence: 1 };

export const stormy: StormOccasion = {
  ...toAnn,
  about: "storm",
  faults: true,
  planned: {
    person: "ann",
    heading: "3 sites behind gateway G7, which may be the common cause",
    lines: [
      "holm: insulation below its threshold",
      "skerry: residual-current trip",
      "tarn: earth fault reported",
    ],
    sites: ["holm", "skerry", "tarn"],
    covers: ["k1", "k2", "k3"],
  },
};

export const stopped: UncleanStopOccasion = {
  ...toAnn,
  about: "unclean-stop",
  lastAtWorkAt: T,
  startedAt: T + 3 * HOUR,
};

export const nobody: NoticeOccasion = {
  ...toAnn,
  about: "notice",
  notice: "nobody-to-tell",
  text: "Path P1 names nobody who is known. Name somebody.",
  at: T,
};
