import type { Assessment, Site } from "@earthbell/engine";
import type {
  AlarmEvent,
  BeaconPart,
  BeaconSeen,
  CaseEvent,
  InputFault,
  Refusal,
  Rung,
  WatchLimits,
  WatchReading,
} from "@earthbell/model";
import type { Clock } from "../clock.ts";
import type { Accept } from "../listen/accept.ts";
import type { Log } from "../log.ts";
import type { DeskStore } from "../store/index.ts";
import type { ChannelKind } from "../tell/channel.ts";
import type { Payloads } from "../tell/mqtt/beacon.ts";
import type { Words } from "../tell/words/occasion.ts";

/** One way to reach one person. */
export interface Way {
  readonly channel: ChannelKind;
  readonly address: string;
}

/** Somebody who keeps the desk itself. */
export interface Keeper extends Way {
  readonly person: string;
}

/** Something at a broker that shows whether there is an earth fault. */
export interface Beacon {
  readonly id: string;
  readonly topic: string;
  /** What its topic holds; absent: a record, which says of a drill that it is one. */
  readonly payloads?: Payloads;
  /** Absent: every site. */
  readonly shows?: readonly BeaconPart[];
}

/** What the watch is made with. */
export interface WatchOptions {
  readonly store: DeskStore;
  readonly clock: Clock;
  readonly log: Log;
  readonly words: Words;
  /** Channels that are set up; people are told by each of them that they have an address for. */
  readonly channels: readonly ChannelKind[];
  /** Told of what concerns the desk itself. */
  readonly keepers: readonly Keeper[];
  /** Lit and put out by what is raised at their sites. */
  readonly beacons?: readonly Beacon[];
  /** The page where messages are acknowledged; the token of the link is put behind it. */
  readonly acknowledgeAt: string;
  /** How long a link to acknowledge works [ms]. */
  readonly linkHoldsMs: number;
  /** The engine's assessment of a site, with the rule packs of this desk. */
  readonly assess: (site: Site) => Assessment;
  /** Asked at every step, since they may change while the desk runs; absent: those of the program. */
  readonly limits?: () => WatchLimits;
  /** Called when messages have been stored that wait to be sent. */
  readonly wroteMessages?: () => void;
  /** Called by name at every step of the chain from a reading to what is stored. */
  readonly step?: (name: AcceptStep) => void;
}

/** Steps of taking readings in, in this order; the last one after everything is stored. */
export type AcceptStep =
  | "accept-begun"
  | "accept-readings"
  | "accept-detected"
  | "accept-written"
  | "accept-stored";

/** What a person may do to an alarm. */
export type PersonAlarmEvent =
  | Exclude<AlarmEvent, { readonly type: "set" | "cleared" | "look" | "shelve" | "acknowledge" }>
  | Omit<Extract<AlarmEvent, { readonly type: "shelve" }>, "nextSunriseAt">;

export interface Done {
  readonly ok: true;
  /** What was done, in words. */
  readonly text: string;
}
export interface NotDone {
  readonly ok: false;
  readonly refusal: Refusal;
}
export type Answer<More = unknown> = (Done & More) | NotDone;

/** The same request sent twice with the same key is carried out once, and answered alike. */
export interface Request {
  readonly requestKey?: string;
}

export interface PutSite {
  readonly ok: true;
  readonly site: string;
  readonly revision: number;
  /** The same text as before: nothing was changed. */
  readonly unchanged: boolean;
  readonly remarks: readonly string[];
}

export type SeenBeacon = Omit<BeaconSeen, "seenAt"> & {
  /** Epoch milliseconds UTC; null for now. */
  readonly seenAt: number | null;
};

/** What a link to acknowledge stands for; looking at it does not use it. */
export interface LinkView {
  readonly state: "open" | "used" | "expired";
  readonly person: string;
  readonly sites: readonly string[];
  /** What acknowledging will do, a line each. */
  readonly lines: readonly string[];
  readonly expiresAt: number;
  readonly usedAt: number | null;
}

/**
 * The live part of the desk: readings become alarms, cases and messages, each in one transaction; what is due with time
 * is looked at; people take their steps. Steps come back as results; only the store failing rejects.
 */
export interface Watch {
  readonly accept: Accept;
  /**
   * Readings of a device that simulates a fault for a drill: they begin a drill of every message path of the arrays
   * concerned, and move no alarm.
   */
  rehearse(
    readings: readonly WatchReading[],
    by: string,
  ): Promise<Answer<{ readonly drills: readonly string[] }>>;

  /** To be called before anything else; says what may have been missed since the desk last listened. */
  start(): Promise<{ readonly silentSinceAt: number | null; readonly clean: boolean }>;
  /** Looks at everything that is due. @returns the next instant at which something is due */
  look(): Promise<{ readonly nextLookAt: number | null }>;
  /** Looks again and again until the signal; never rejects: what fails is logged and tried again. */
  run(signal: AbortSignal): Promise<void>;
  /** Marks the desk as stopped in order. */
  stop(): Promise<void>;

  putSite(
    text: string,
    by: string,
  ): Promise<PutSite | { readonly ok: false; readonly faults: readonly InputFault[] }>;
  removeSite(site: string, by: string): Promise<Answer>;
  putLadder(site: string, path: string, rungs: readonly Rung[], by: string): Promise<Answer>;
  /** Says of every beacon what it shows; to be called once the sites are in. */
  relight(): Promise<void>;
  /** Messages reach this address again. */
  mendWay(way: Way, by: string): Promise<Answer>;

  stepAlarm(alarm: string, event: PersonAlarmEvent, request?: Request): Promise<Answer>;
  /** Acknowledges an alarm, every alarm of a case, or a drill, by its id. */
  acknowledge(matter: string, by: string, request?: Request): Promise<Answer>;
  stepCase(fault: string, event: CaseEvent, request?: Request): Promise<Answer>;

  startDrill(
    site: string,
    path: string,
    by: string,
    request?: Request,
  ): Promise<Answer<{ readonly drill: string }>>;
  /** A named person saw a beacon burn for a drill: now, or when they say. */
  seeBeacon(drill: string, seen: SeenBeacon, request?: Request): Promise<Answer>;
  /** When the path's next drill begins by itself; null for not at all. */
  planDrill(site: string, path: string, at: number | null, by: string): Promise<Answer>;

  openLink(token: string): Promise<LinkView | null>;
  redeemLink(token: string): Promise<Answer>;
}
