/** What the desk answers about papers, as far as these pages read it. */
export type PaperState = "lacking" | "outdated" | "current";

export interface SitePapers {
  readonly id: string;
  readonly name: string | null;
  readonly papers: Readonly<Record<SiteKind, PaperState>>;
}

export interface InputChange {
  readonly what: string;
  readonly before: string | null;
  readonly now: string | null;
}

export interface PaperRevision {
  readonly revision: number;
  readonly date: string;
  readonly by: string | null;
  readonly changed: number;
  readonly changes: readonly InputChange[];
  readonly files: readonly PaperFile[];
}

/** unsigned: without a signature beside it; missing: not in the desk's folder any more. */
export type FileVerdict = "valid" | "altered" | "unknown-key" | "unsigned" | "missing";

export interface PaperFile {
  readonly name: string;
  readonly sha256: string;
  /** By its signature; null for files of earlier revisions. */
  readonly signature: FileVerdict | null;
}

export interface PaperLine {
  readonly kind: Kind;
  readonly language: "en" | "es";
  readonly number: string;
  readonly state: PaperState | null;
  readonly hasResults: boolean;
  readonly revisions: readonly PaperRevision[];
}

/** How the papers of the sites stand that are asked for. */
export interface PaperStates {
  /** All sites, whether asked for or not. */
  readonly count: number;
  /** Those that are asked for. */
  readonly fits: number;
  /** Of those, how many lack a paper of a kind or have it outdated. */
  readonly toMake: Readonly<Record<SiteKind, number>>;
  /** The first of them. */
  readonly sites: readonly SitePapers[];
}

/** A paper that was made, or a draft of it. */
export interface MadePaper {
  readonly number: string;
  readonly revision: number;
  readonly date: string;
  readonly again: boolean;
  readonly changed: number;
  readonly changes: readonly InputChange[];
}

export interface Issued extends MadePaper {
  readonly files: readonly string[];
  readonly notDrawn: string;
}

export interface Drafted extends MadePaper {
  readonly draft: string;
  readonly warnings: readonly string[];
}

/** What people entered for the newest revision of a paper. */
export interface Entered<Record> {
  readonly number: string;
  readonly revision: number;
  readonly date: string;
  readonly by: string | null;
  readonly entered: Record;
}

/** Kinds that each site has of its own, in the order of its life. */
export const SITE_KINDS = ["design-record", "commissioning-record", "owner-notice", "visit-sheet"] as const;
export type SiteKind = (typeof SITE_KINDS)[number];
export type Kind = SiteKind | "fault-report" | "fleet-register" | "setting-sheet";

export const KIND_WORDS: Readonly<Record<Kind, string>> = {
  "owner-notice": "Owner's notice",
  "design-record": "Design record",
  "commissioning-record": "Commissioning record",
  "visit-sheet": "Visit sheet",
  "fault-report": "Fault report",
  "fleet-register": "Register of the fleet",
  "setting-sheet": "Setting sheet",
};

export const STATE_WORDS: Readonly<Record<PaperState, string>> = {
  lacking: "lacking",
  outdated: "outdated",
  current: "current",
};
