import { acknowledgeAll } from "./alarm/acknowledge-all.ts";
import { type Alarm, newAlarm } from "./alarm/alarm.ts";
import type { AlarmEvent } from "./alarm/alarm-event.ts";
import { nextLookAt } from "./alarm/pass-time.ts";
import { transition } from "./alarm/transition.ts";
import { type Case, withNotes } from "./case/case.ts";
import { type CaseEvent, caseStep } from "./case/case-event.ts";
import { followAlarm } from "./case/follow-alarm.ts";
import type { Effect } from "./effect.ts";
import { WATCH_LIMITS } from "./limits.ts";
import type { Delivery } from "./notify/delivery.ts";
import { type AlarmMatter, mattersOf } from "./notify/matter.ts";
import type { TellPath, TellPerson } from "./notify/recipients.ts";
import { tellRound, type TellRound } from "./notify/tell-round.ts";
import type { SignKind } from "./sign.ts";

/** A desk of one array in memory, to run the pure parts together as a real desk would. Plain JSON. */
export interface SmallDesk {
  readonly now: number;
  readonly alarms: readonly Alarm[];
  readonly open: Case | null;
  readonly lastClosed: Case | null;
  readonly cases: number;
  readonly deliveries: readonly Delivery[];
}

export interface Surroundings {
  readonly path: TellPath;
  readonly people: readonly TellPerson[];
}

export type Happening =
  | { readonly to: "alarm"; readonly sign: SignKind; readonly event: AlarmEvent }
  | { readonly to: "case"; readonly event: CaseEvent }
  | { readonly to: "all"; readonly by: string };

const KINDS = ["insulation-low", "residual-trip", "dawn-recurring"] as const;

export function newDesk(now: number): SmallDesk {
  const subject = { kind: "array", array: "A1" } as const;
  const alarms = KINDS.map((sign) => newAlarm(sign, "tarn", subject, sign));
  return { now, alarms, open: null, lastClosed: null, cases: 0, deliveries: [] };
}

/** Stores an alarm and brings it into the case, in one transaction. */
function store(desk: SmallDesk, alarm: Alarm): SmallDesk {
  const { open, earlier, outcome } = followAlarm(desk, alarm, {
    at: desk.now,
    newId: `C${String(desk.cases + 1)}`,
  });
  return {
    ...desk,
    alarms: desk.alarms.map((one) => (one.id === alarm.id ? alarm : one)),
    open,
    lastClosed: earlier ?? desk.lastClosed,
    cases: desk.cases + (outcome === "opened" ? 1 : 0),
  };
}

function stepAlarm(desk: SmallDesk, alarm: Alarm, event: AlarmEvent): SmallDesk {
  const step = transition(alarm, event, desk.now);
  return step.ok ? noted(store(desk, step.alarm), step.effects) : desk;
}

function noted(desk: SmallDesk, effects: readonly Effect[]): SmallDesk {
  return desk.open === null ? desk : { ...desk, open: withNotes(desk.open, effects) };
}

function stepCase(desk: SmallDesk, event: CaseEvent): SmallDesk {
  if (desk.open === null) return desk;
  const step = caseStep(desk.open, event, desk.now);
  if (!step.ok) return desk;
  const closed = step.case.closed !== null;
  let after: SmallDesk = {
    ...desk,
    open: closed ? null : step.case,
    lastClosed: closed ? step.case : desk.lastClosed,
  };
  for (const effect of step.effects) {
    if (effect.effect !== "sign-alarms") continue;
    const { by, cause } = effect;
    for (const alarm of desk.alarms) after = stepAlarm(after, alarm, { type: "sign-cause", by, cause });
  }
  return after;
}

/** Something happens now; then the desk tells whom it must. */
export function happen(desk: SmallDesk, what: Happening, around: Surroundings): SmallDesk {
  switch (what.to) {
    case "alarm": {
      const alarm = desk.alarms.find(({ sign }) => sign === what.sign)!;
      return tell(stepAlarm(desk, alarm, what.event), around);
    }
    case "case":
      return tell(stepCase(desk, what.event), around);
    case "all": {
      const { alarms, effects } = acknowledgeAll(desk.alarms, what.by, desk.now);
      return tell(noted(alarms.reduce(store, desk), effects), around);
    }
  }
}

function matters({ open, lastClosed, alarms }: SmallDesk): readonly AlarmMatter[] {
  return mattersOf(
    [open, lastClosed].filter((one) => one !== null),
    alarms,
  );
}

export function rounds(desk: SmallDesk, { path, people }: Surroundings): readonly TellRound[] {
  return matters(desk).map((matter) => tellRound(matter, path, people, desk.deliveries, desk.now));
}

/** Sends what is due and records it after sending. */
function tell(desk: SmallDesk, around: Surroundings): SmallDesk {
  const sent = rounds(desk, around).flatMap(({ decisions }) =>
    decisions.flatMap(({ decision }): Delivery[] => {
      if (!decision.tell) return [];
      const { matter, path, person, kind, sequence, told } = decision.message;
      return [{ matter, path, person, kind, sequence, told, at: desk.now }];
    }),
  );
  return { ...desk, deliveries: [...desk.deliveries, ...sent] };
}

/** The stored instant at which the desk has to look next. */
function nextLook(desk: SmallDesk, around: Surroundings): number {
  const instants = [
    ...desk.alarms.map((alarm) => nextLookAt(alarm, WATCH_LIMITS)),
    ...rounds(desk, around).map((round) => round.nextLookAt),
  ];
  return Math.min(...instants.map((at) => at ?? Infinity));
}

/** Lets time pass, looking at every stored instant on the way and at no other. */
export function waitUntil(
  desk: SmallDesk,
  until: number,
  around: Surroundings,
  seen: (desk: SmallDesk) => void = () => undefined,
): SmallDesk {
  let passing = desk;
  for (;;) {
    const at = nextLook(passing, around);
    if (at > until) return { ...passing, now: until };
    if (at <= passing.now)
      throw new Error(`looks again at ${String(at)} though it is ${String(passing.now)}`);
    passing = { ...passing, now: at };
    for (const alarm of passing.alarms) passing = stepAlarm(passing, alarm, { type: "look" });
    passing = tell(passing, around);
    seen(passing);
  }
}
