import { type RulePack, rulesUsed, type Site } from "@earthbell/engine";
import type { PaperKind } from "../content/paper-kind.ts";
import { canonicalJson, type Json, jsonOf } from "../identity/canonical.ts";
import type { Digest, Issue } from "../identity/issue.ts";
import { noticeInput } from "../kinds/owner-notice/notice-facts.ts";
import { withRules } from "./rules-input.ts";

/** Kinds of papers that each site has of its own. */
export const SITE_PAPERS = [
  "owner-notice",
  "design-record",
  "commissioning-record",
  "visit-sheet",
] as const satisfies readonly PaperKind[];
export type SitePaper = (typeof SITE_PAPERS)[number];

/** What a paper of a site is made from: of the site file what it tells, and the rule values that it rests on. */
export function siteInput(kind: SitePaper, site: Site, packs: readonly RulePack[]): Json {
  switch (kind) {
    case "owner-notice":
      return noticeInput(site);
    case "design-record":
      return withRules(jsonOf(site), rulesUsed(site, packs));
    case "commissioning-record":
      return withRules(jsonOf(site), rulesUsed(site, packs, "limits"));
    case "visit-sheet":
      return jsonOf(site);
  }
}

/** Digests of what the papers of a site are made from, by which an issue is known to be of today's site file and rules. */
export type SiteDigests = Readonly<Record<SitePaper, string>>;

export function siteDigests(site: Site, packs: readonly RulePack[], digest: Digest): SiteDigests {
  const digests = SITE_PAPERS.map((kind) => [kind, digest(canonicalJson(siteInput(kind, site, packs)))]);
  return Object.fromEntries(digests) as SiteDigests;
}

/** What was done there, beside what the site is. */
const OF_THE_WORK: ReadonlySet<string> = new Set(["results", "sheets"]);

/** The digest of the site file and the rules that an issue was made from; results of a commissioning do not age with them. */
export function siteDigestOf(
  { kind, digest, input }: Pick<Issue, "kind" | "digest" | "input">,
  of: Digest,
): string {
  if (kind !== "commissioning-record") return digest;
  const parts = Object.entries(input as Readonly<Record<string, Json>>);
  const site = parts.filter(([name]) => !OF_THE_WORK.has(name));
  if (site.length === parts.length) return digest;
  return of(canonicalJson(Object.fromEntries(site)));
}

/** Whether an issue of a commissioning record carries what was measured. */
export function hasResults(input: Json): boolean {
  return typeof input === "object" && input !== null && !Array.isArray(input) && "results" in input;
}
