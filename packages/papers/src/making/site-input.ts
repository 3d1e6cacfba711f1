import type { Site } from "@earthbell/engine";
import type { PaperKind } from "../content/paper-kind.ts";
import { canonicalJson, type Json, jsonOf } from "../identity/canonical.ts";
import type { Digest, Issue } from "../identity/issue.ts";
import { noticeInput } from "../kinds/owner-notice/notice-facts.ts";

/** Kinds of papers that each site has of its own. */
export const SITE_PAPERS = [
  "owner-notice",
  "design-record",
  "commissioning-record",
  "visit-sheet",
] as const satisfies readonly PaperKind[];
export type SitePaper = (typeof SITE_PAPERS)[number];

/** Digests of what the papers of a site are made from, by which an issue is known to be of today's site file. */
export interface SiteDigests {
  readonly notice: string;
  readonly whole: string;
}

export function siteDigests(site: Site, digest: Digest): SiteDigests {
  return { notice: digest(canonicalJson(noticeInput(site))), whole: digest(canonicalJson(jsonOf(site))) };
}

/** The digest of the site file alone that an issue was made from; results of a commissioning do not age with the file. */
export function siteDigestOf(
  { kind, digest, input }: Pick<Issue, "kind" | "digest" | "input">,
  of: Digest,
): string {
  const results = kind === "commissioning-record" && hasResults(input);
  const rules = kind !== "owner-notice" && hasRules(input);
  if (!results && !rules) return digest;
  const site = Object.entries(input as Readonly<Record<string, Json>>).filter(
    ([name]) => !(results && name === "results") && !(rules && name === "rules"),
  );
  return of(canonicalJson(Object.fromEntries(site)));
}

function hasRules(input: Json): boolean {
  return typeof input === "object" && input !== null && !Array.isArray(input) && "rules" in input;
}

/** Whether an issue of a commissioning record carries what was measured. */
export function hasResults(input: Json): boolean {
  return typeof input === "object" && input !== null && !Array.isArray(input) && "results" in input;
}
