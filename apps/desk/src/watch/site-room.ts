import type { Site } from "@earthbell/engine";
import type { Alarm, ArrayLimits, Case, DetectorState, Drill, PathWatch, Rung } from "@earthbell/model";
import type { InsulationDayTable, LastKnownTable } from "../store/index.ts";
import { Drafted } from "./drafted.ts";

/** A site file as it was put in, and what its detectors go by. */
export interface Filed {
  readonly site: Site;
  readonly revision: number;
  readonly knownSince: number;
  readonly putAt: number;
  readonly limits: Readonly<Record<string, ArrayLimits>>;
}

export interface PathLadder {
  readonly path: string;
  readonly rungs: readonly Rung[];
}

export interface DrillPlan {
  readonly path: string;
  /** Null: none is planned. */
  readonly at: number | null;
}

/**
 * Everything of one site that the watch works on, as the store has it. Values are replaced, never changed. Its draft is made once:
 * transactions come one after the other, and after one that failed the room is forgotten with its draft.
 */
export interface SiteRoom {
  draft: SiteDraft | null;
  readonly id: string;
  readonly filed: Filed;
  /** By array. */
  readonly detectors: Map<string, DetectorState>;
  /** By id. */
  readonly alarms: Map<string, Alarm>;
  /** By id: the open ones, those closed lately, and the last closed one of each array. */
  readonly cases: Map<string, Case>;
  /** By path. */
  readonly watches: Map<string, PathWatch>;
  /** By id: those that have not ended. */
  readonly drills: Map<string, Drill>;
  readonly ladders: Map<string, PathLadder>;
  readonly plans: Map<string, DrillPlan>;
  /** By `knownKey`. */
  readonly known: Map<string, LastKnownTable>;
  /** Of the last weeks, by `dayKey`. */
  readonly days: Map<string, InsulationDayTable>;
  /** By array: the state of which the core is stored. */
  readonly stored: Map<string, DetectorState>;
}

export function emptyRoom(id: string, filed: Filed): SiteRoom {
  return {
    id,
    filed,
    detectors: new Map(),
    alarms: new Map(),
    cases: new Map(),
    watches: new Map(),
    drills: new Map(),
    ladders: new Map(),
    plans: new Map(),
    known: new Map(),
    days: new Map(),
    stored: new Map(),
    draft: null,
  };
}

/** A site within one transaction. */
export interface SiteDraft {
  readonly id: string;
  readonly filed: Filed;
  readonly detectors: Drafted<DetectorState>;
  readonly alarms: Drafted<Alarm>;
  readonly cases: Drafted<Case>;
  readonly watches: Drafted<PathWatch>;
  readonly drills: Drafted<Drill>;
  readonly ladders: Drafted<PathLadder>;
  readonly plans: Drafted<DrillPlan>;
  readonly known: Drafted<LastKnownTable>;
  readonly days: Drafted<InsulationDayTable>;
  readonly stored: Drafted<DetectorState>;
  /** Something changed of which people may have to be told. */
  changed: boolean;
  /** When to look again; null leaves what is stored. */
  lookAt: number | null;
  /** What detectors said in this transaction, by alarm. */
  readonly saw: Map<string, readonly string[]>;
}

/** The site as the next transaction finds it. */
export function draftOf(room: SiteRoom): SiteDraft {
  const draft = (room.draft ??= newDraft(room));
  draft.changed = false;
  draft.lookAt = null;
  draft.saw.clear();
  return draft;
}

function newDraft(room: SiteRoom): SiteDraft {
  return {
    id: room.id,
    filed: room.filed,
    detectors: new Drafted(room.detectors),
    alarms: new Drafted(room.alarms),
    cases: new Drafted(room.cases),
    watches: new Drafted(room.watches),
    drills: new Drafted(room.drills),
    ladders: new Drafted(room.ladders),
    plans: new Drafted(room.plans),
    known: new Drafted(room.known),
    days: new Drafted(room.days),
    stored: new Drafted(room.stored),
    changed: false,
    lookAt: null,
    saw: new Map(),
  };
}

export function keepDraft(site: SiteDraft): void {
  site.detectors.keep();
  site.alarms.keep();
  site.cases.keep();
  site.watches.keep();
  site.drills.keep();
  site.ladders.keep();
  site.plans.keep();
  site.known.keep();
  site.days.keep();
  site.stored.keep();
}

export function knownKey(
  { device, source, kind }: Pick<LastKnownTable, "device" | "source" | "kind">,
  array: string,
): string {
  return `${device}\n${source}\n${kind}\n${array}`;
}

export function dayKey(of: Pick<InsulationDayTable, "array_id" | "device" | "date">): string {
  return `${of.array_id}\n${of.device}\n${of.date}`;
}
