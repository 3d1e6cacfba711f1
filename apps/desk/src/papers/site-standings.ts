import type { RulePack, Site } from "@earthbell/engine";
import {
  type Digest,
  paperNumber,
  SITE_PAPERS,
  type SiteDigests,
  siteDigests,
  type SitePaper,
} from "@earthbell/papers";
import type { DeskStore } from "../store/index.ts";
import type { KnownPaper } from "./paper-index.ts";

/** lacking: never issued; outdated: what it is made from has changed since; current: it has not. */
export type PaperState = "lacking" | "outdated" | "current";

/** A site with how each of its papers stands. */
export interface SiteStandings {
  readonly id: string;
  readonly name: string | null;
  readonly papers: Readonly<Record<SitePaper, PaperState>>;
}

/** What is made from a site file by rules, by the digest of its text and the rules that were in force. */
interface Known {
  readonly textDigest: string;
  readonly packs: readonly RulePack[];
  readonly name: string | null;
  readonly digests: SiteDigests;
}

/** Sites that are read before other work of the desk gets its turn. */
const AT_ONCE = 100;

/** How the papers of sites stand. What was worked out for a site file holds until that file, or a rule of the desk, changes. */
export class SiteStandingsReader {
  readonly #known = new Map<string, Known>();

  constructor(
    private readonly store: DeskStore,
    private readonly digest: Digest,
  ) {}

  /** @param packs  rule packs of the desk; the same list as long as none of their values changes */
  async of(
    sees: (site: string) => boolean,
    papers: ReadonlyMap<string, KnownPaper>,
    packs: readonly RulePack[],
  ): Promise<readonly SiteStandings[]> {
    const rows = await this.store.db
      .selectFrom("site")
      .select(["id", "digest"])
      .where("removed_at", "is", null)
      .orderBy("id")
      .execute();
    const seen = rows.filter(({ id }) => sees(id));
    const stale = seen.filter(({ id, digest }) => {
      const known = this.#known.get(id);
      return known?.textDigest !== digest || known.packs !== packs;
    });
    await this.#learn(stale, packs);
    return seen.flatMap(({ id }) => {
      const known = this.#known.get(id);
      return known === undefined ? [] : [standings(id, known, papers)];
    });
  }

  async #learn(rows: readonly { readonly id: string }[], packs: readonly RulePack[]): Promise<void> {
    for (let from = 0; from < rows.length; from += AT_ONCE) {
      const ids = rows.slice(from, from + AT_ONCE).map(({ id }) => id);
      const read = await this.store.db
        .selectFrom("site")
        .select(["id", "digest", "site_json"])
        .where("id", "in", ids)
        .execute();
      for (const { id, digest, site_json } of read) {
        const site = JSON.parse(site_json) as Site;
        this.#known.set(id, {
          textDigest: digest,
          packs,
          name: site.name ?? null,
          digests: siteDigests(site, packs, this.digest),
        });
      }
      // Readings and alarms come first: they get their turn between the portions.
      await new Promise<void>((turn) => setImmediate(turn));
    }
  }
}

function standings(
  id: string,
  { name, digests }: Known,
  papers: ReadonlyMap<string, KnownPaper>,
): SiteStandings {
  const entries = SITE_PAPERS.map((kind) => [
    kind,
    standingOf(papers.get(paperNumber({ kind, of: id, language: "en" })), digests),
  ]);
  return { id, name, papers: Object.fromEntries(entries) as Record<SitePaper, PaperState> };
}

/** How an issued paper of a site stands against the site file and the rules of today. */
export function standingOf(paper: KnownPaper | undefined, digests: SiteDigests): PaperState {
  if (paper === undefined) return "lacking";
  return paper.siteDigest === digests[paper.kind as SitePaper] ? "current" : "outdated";
}
