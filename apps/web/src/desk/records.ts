import type { Alarm, Case, Drill } from "@earthbell/model";

/** What the desk answers, as far as these pages read it. Instants are milliseconds since 1970 in UTC. */
export interface Me {
  readonly name: string;
  readonly role: Role | "site";
  /** Sites to which the account is bound; null for all. */
  readonly sites: readonly string[] | null;
  /** Looks by an owner's link, without an account. */
  readonly byLink?: boolean;
}

export type Role = "service" | "technician" | "installer" | "owner";

export interface SiteLine {
  readonly id: string;
  readonly name: string | null;
  readonly revision: number;
  readonly putAt: number;
  readonly putBy: string;
  readonly arrays: number;
  readonly openCases: number;
  readonly activeAlarms: number;
  readonly silentPaths: number;
  /** How it stands by its file on that day; null until the desk has judged it. */
  readonly standing: SiteStanding | null;
  /** The lowest that one of its arrays was last heard to have; null where none is heard. */
  readonly insulation: { readonly ohms: number; readonly at: number } | null;
  readonly drillPassedAt: number | null;
}

export interface SiteStanding {
  readonly onDate: string;
  readonly duty: "required" | "not-required" | "undecided";
  readonly path: "meets" | "falls-short" | "unproven" | "cannot-tell" | null;
  readonly thresholdOhms: number | null;
  readonly provedOn: string | null;
}

export type CaseBrief = Omit<Case, "timeline">;

/** A case in a line. */
export interface CaseLine {
  readonly id: string;
  readonly site: string;
  readonly name: string | null;
  readonly array: string;
  readonly openedAt: number;
  /** present: the fault is there; ready: nothing is missing to close it; unsigned: something is. */
  readonly state: "closed" | "present" | "ready" | "unsigned";
}

export interface CaseLines {
  /** All that there are, whether named or not. */
  readonly count: number;
  readonly cases: readonly CaseLine[];
}

/** Sites of which the same is to be said: the ids of the first of them, and how many there are. */
export interface SiteGroup {
  readonly first: readonly string[];
  readonly count: number;
}

/** What needs a person at the desk, the foremost of each kind. */
/** An array that its insulation history says somebody has to go to. */
export interface VisitBrief {
  readonly site: string;
  readonly array: string;
  readonly why: string;
  readonly by: string;
  /** It was below its threshold on its newest morning. */
  readonly below: boolean;
  /** Since when the watch sees its insulation sink as well. */
  readonly sinkingSince: number | null;
}

export interface Now {
  readonly cases: readonly CaseBrief[];
  readonly alarms: readonly Alarm[];
  readonly drills: readonly Drill[];
  readonly visits: readonly VisitBrief[];
  /** How many of each kind there are beyond those. */
  readonly more: Readonly<
    Record<
      "unanswered" | "present" | "silent" | "missed" | "unsigned" | "drills" | "visits" | "upkeep",
      number
    >
  >;
  readonly unserved: SiteGroup;
  readonly unproved: SiteGroup;
  /** Names of the sites that are spoken of. */
  readonly names: Readonly<Record<string, string>>;
  readonly watched: number;
  /** Without a sign or a silent path. */
  readonly quiet: number;
  /** Not judged yet. */
  readonly unjudged: number;
  /** Overrides of rule values that are not gone by until somebody looks at them again. */
  readonly setAside: readonly { readonly pack: string; readonly field: string; readonly text: string }[];
  /** Every insulation history has been read since the desk was started. */
  readonly historiesRead: boolean;
  readonly lastPassed: { readonly site: string; readonly path: string; readonly startedAt: number } | null;
}

export interface ToldLine {
  readonly person: string;
  readonly path: string;
  readonly kind: string;
  readonly sequence: number;
  readonly at: number;
  readonly channel: string;
}

export interface CaseWhole {
  readonly case: Case;
  readonly alarms: readonly Alarm[];
  readonly told: readonly ToldLine[];
}

export interface MessageLine {
  readonly key: string;
  readonly channel: string;
  readonly person: string;
  readonly site: string;
  readonly matter: string;
  readonly kind: string;
  readonly state: "waiting" | "claimed" | "sent" | "refused";
  readonly reason: string;
  readonly writtenAt: number;
  readonly dueAt: number;
  readonly attempts: number;
  readonly finishedAt: number | null;
  readonly reply: string | null;
}

export interface BrokenAddress {
  readonly channel: string;
  readonly address: string;
  readonly sinceAt: number;
  readonly reason: string;
}

export interface Listener {
  readonly name: string;
  readonly state: "hearing" | "partly-deaf" | "deaf";
  readonly known: number;
  readonly unheard: number;
  readonly text: string;
}

export interface Person {
  readonly id: string;
  readonly name: string;
  readonly role: Role;
  readonly sites: readonly string[] | null;
  readonly createdAt: number;
  readonly createdBy: string;
  readonly passkeys: number;
}

export interface Health {
  readonly state: "well" | "partly-deaf" | "deaf" | "unwell";
  readonly text: string;
}

export type { Alarm, Case, Drill };
