/** What the desk tells of the people who are told, as far as these pages read it. Days are YYYY-MM-DD. */
export interface PersonRef {
  readonly site: string;
  readonly person: string;
}

export interface Way {
  readonly channel: "email" | "sms" | "webhook";
  readonly address: string;
  /** The desk has a channel for it. */
  readonly used: boolean;
  readonly broken: { readonly sinceAt: number; readonly reason: string } | null;
}

export interface Absence {
  readonly from: string;
  readonly to: string;
}

export interface ToldPerson {
  readonly of: PersonRef;
  readonly ids: readonly string[];
  readonly roles: readonly string[];
  readonly ways: readonly Way[];
  readonly sites: number;
  readonly paths: number;
  readonly aloneOn: readonly { readonly site: string; readonly path: string }[];
  readonly habits: readonly {
    readonly reads: string | null;
    readonly checksPerDay: number | null;
    readonly sites: number;
  }[];
  readonly zones: readonly string[];
  readonly away: readonly (Absence & { readonly now: boolean; readonly sites: number })[];
  readonly until: readonly { readonly until: string; readonly past: boolean; readonly sites: number }[];
  readonly message: {
    readonly at: number;
    readonly site: string;
    readonly channel: string;
    readonly kind: string;
    readonly state: "waiting" | "claimed" | "sent" | "refused";
    readonly reply: string | null;
  } | null;
  readonly answer: {
    readonly at: number;
    readonly site: string;
    readonly kind: string;
    readonly tookMs: number;
  } | null;
}

export interface ToldPage {
  readonly all: number;
  readonly broken: number;
  readonly away: number;
  readonly found: number;
  readonly people: readonly ToldPerson[];
  readonly unnamed: readonly {
    readonly channel: string;
    readonly address: string;
    readonly sinceAt: number;
    readonly reason: string;
  }[];
}

export interface Entry {
  readonly site: string;
  readonly siteName: string | null;
  readonly person: string;
  readonly role: string | null;
  readonly reads: string | null;
  readonly checksPerDay: number | null;
  readonly zone: string;
  readonly away: readonly Absence[];
  readonly until: string | null;
  readonly paths: readonly {
    readonly path: string;
    readonly afterMin: number | null;
    readonly others: readonly string[];
  }[];
  readonly mayChange: boolean;
}

export interface ToldWhole extends ToldPerson {
  readonly entries: readonly Entry[];
}

/** What is asked to change; left out: stays. null: the file is not to say it. */
export interface Change {
  readonly reads?: string | null;
  readonly checksPerDay?: number | null;
  readonly until?: string | null;
  readonly awayAdded?: readonly Absence[];
  readonly awayRemoved?: readonly Absence[];
  readonly address?: { readonly channel: Way["channel"]; readonly from: string; readonly to: string };
}

export interface Wanted {
  readonly of: PersonRef;
  /** null: everywhere. */
  readonly sites: readonly string[] | null;
  readonly change: Change;
}

export interface PlannedSite {
  readonly site: string;
  readonly rewritten: boolean;
  readonly changes: readonly {
    readonly person: string;
    readonly what: string;
    readonly before: string | null;
    readonly now: string | null;
  }[];
  readonly texts: { readonly before: string; readonly after: string } | null;
}

export interface Planned {
  readonly sites: readonly PlannedSite[];
  readonly unchanged: number;
  readonly notAllowed: number;
  readonly seen: string;
}
