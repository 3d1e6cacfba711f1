import { monthsLater, PROOF_HOLDS_MONTHS, type Proof, type Site } from "@earthbell/engine";
import { siteName } from "../content/site-name.ts";

/** A day on which something of a site is due. */
export interface DueDay {
  /** The same for the same thing of the same site, so that a calendar moves it instead of doubling it. */
  readonly id: string;
  /** YYYY-MM-DD. */
  readonly on: string;
  readonly what: string;
  readonly why: string;
}

const KINDS: readonly (readonly [Proof["kind"], string])[] = [
  ["drill", "Drill"],
  ["test-resistor", "Proof with a test resistor"],
];

/** The owner's notice is gone through again this often [months] (design choice). */
const REVIEW_MONTHS = 12;

/**
 * What is due at a site: each kind of proof of each path again after the newest one, a first proof where there is none, a
 * review of the owner's notice, and the end of a person's post. Overdue things keep the day on which they were due.
 */
export function dueDays(site: Site, today: string): readonly DueDay[] {
  return [
    ...site.paths.flatMap(({ id }) => proofDays(site, id, today)),
    ...reviewDays(site, today),
    ...site.people.flatMap(({ id, until }) =>
      until === undefined
        ? []
        : [
            {
              id: uid(site, id, "post"),
              on: until,
              what: `${id}'s post ends: ${siteName(site)}`,
              why: "The paths that name this person need another one.",
            },
          ],
    ),
  ];
}

function proofDays(site: Site, path: string, today: string): readonly DueDay[] {
  const proofs = site.proofs.filter((proof) => proof.path === path && proof.on <= today);
  if (proofs.length === 0)
    return [
      {
        id: uid(site, path, "first-proof"),
        on: today,
        what: `First proof of path ${path}: ${siteName(site)}`,
        why: "No drill and no test with a resistor is on record.",
      },
    ];
  return KINDS.flatMap(([kind, words]) => {
    const newest = proofs
      .filter((proof) => proof.kind === kind)
      .map(({ on }) => on)
      .sort()
      .at(-1);
    if (newest === undefined) return [];
    const on = monthsLater(newest, PROOF_HOLDS_MONTHS);
    return [
      {
        id: uid(site, path, kind),
        on,
        what: `${words} of path ${path}: ${siteName(site)}`,
        why: `The one before was on ${newest}; it holds ${PROOF_HOLDS_MONTHS} months.`,
      },
    ];
  });
}

function reviewDays(site: Site, today: string): readonly DueDay[] {
  const { ownerInformed } = site;
  const id = uid(site, "owner", "review");
  const what = `Review of the owner's notice: ${siteName(site)}`;
  return ownerInformed === undefined
    ? [{ id, on: today, what, why: "No record says that the owner was told in writing." }]
    : [
        {
          id,
          on: monthsLater(ownerInformed.on, REVIEW_MONTHS),
          what,
          why: `The owner was told on ${ownerInformed.on}.`,
        },
      ];
}

function uid(site: Site, of: string, kind: string): string {
  return [site.id, of, kind].map((part) => encodeURIComponent(part)).join("/");
}
