import type { AccountTable } from "../store/index.ts";

export type Role = AccountTable["role"];

/** Everything that can be asked of the desk, by what it touches. */
export const ACTIONS = [
  "see-site",
  "see-messages",
  "see-people",
  "change-site",
  "change-people",
  "mend-address",
  "answer",
  "work-case",
  "close-case",
  "quiet",
  "drill",
  "issue-paper",
  "push",
  "override-rules",
  "change-settings",
  "keep-desk",
] as const;
export type Action = (typeof ACTIONS)[number];

/** Who asks, as far as access goes. */
export interface Bearer {
  readonly role: Role | "site" | "link";
  /** Sites to which the bearer is bound; null for all. */
  readonly sites: readonly string[] | null;
}

/**
 * What each role may do, within its sites.
 *
 * service     runs the desk: everything
 * technician  works on cases: answers, measures, closes, takes alarms out of service while working; tries addresses out
 * installer   keeps the own sites: their files, people and addresses, drills, answers
 * owner       looks, and changes nothing
 * link        an owner without an account, by a link of some days: looks, and changes nothing
 * site        devices: pushes readings of the one site
 */
const MAY: Readonly<Record<Bearer["role"], readonly Action[]>> = {
  service: ACTIONS,
  technician: [
    "see-site",
    "see-messages",
    "see-people",
    "mend-address",
    "answer",
    "work-case",
    "close-case",
    "quiet",
    "drill",
    "issue-paper",
  ],
  installer: [
    "see-site",
    "see-people",
    "change-site",
    "change-people",
    "mend-address",
    "answer",
    "work-case",
    "drill",
    "issue-paper",
  ],
  owner: ["see-site"],
  link: ["see-site"],
  site: ["push"],
};

export type Access = { readonly ok: true } | { readonly ok: false; readonly text: string };

/**
 * The one place where access is decided.
 *
 * @param site  the site that is touched; null for what concerns the desk as a whole, which a bearer bound to sites never touches
 *              except to see or list what is theirs
 */
export function mayDo(bearer: Bearer, action: Action, site: string | null): Access {
  if (!MAY[bearer.role].includes(action))
    return { ok: false, text: `${ROLE_WORDS[bearer.role]} may not do this (${action}).` };
  if (bearer.sites === null) return { ok: true };
  if (site !== null)
    return bearer.sites.includes(site)
      ? { ok: true }
      : { ok: false, text: `This account is bound to other sites than ${site}.` };
  return LISTINGS.includes(action)
    ? { ok: true }
    : { ok: false, text: "This account is bound to single sites." };
}

/** What can be asked for without naming a site: only what is theirs is listed. */
const LISTINGS: readonly Action[] = ["see-site", "see-messages", "see-people"];

/** Whether something of a site may be shown in a list. */
export function sees({ sites }: Bearer, site: string): boolean {
  return sites === null || boundTo(sites).has(site);
}

/** A list is asked about every one of many sites: it is made a set once, not searched for each. */
const BOUND = new WeakMap<readonly string[], ReadonlySet<string>>();

function boundTo(sites: readonly string[]): ReadonlySet<string> {
  const known = BOUND.get(sites) ?? new Set(sites);
  BOUND.set(sites, known);
  return known;
}

const ROLE_WORDS: Readonly<Record<Bearer["role"], string>> = {
  service: "A service engineer",
  technician: "A technician",
  installer: "An installer",
  owner: "An owner",
  link: "An owner's link",
  site: "The token of a site",
};
