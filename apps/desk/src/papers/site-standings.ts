import type { RulePack, Site } from "@earthbell/engine";
import {
  type Digest,
  paperNumber,
  SITE_PAPERS,
  type SiteDigests,
  siteDigests,
  type SitePaper,
} from "@earthbell/papers";
import { othersFirst, type Seen, sitePortions } from "../overview/bound-to.ts";
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

/** Sites that are told of, and files that are read, before other work of the desk gets its turn. */
const AT_ONCE = 500;
const READ_AT_ONCE = 10;

/** How the papers of sites stand. What was worked out for a site file holds until that file, or a rule of the desk, changes. */
export class SiteStandingsReader {
  readonly #known = new Map<string, Known>();

  constructor(
    private readonly store: DeskStore,
    private readonly digest: Digest,
  ) {}

  /**
   * A portion at a time, in the order of the ids.
   *
   * @param packs  rule packs of the desk; the same list as long as none of their values changes
   */
  async *of(
    seen: Seen,
    papers: ReadonlyMap<string, KnownPaper>,
    packs: readonly RulePack[],
  ): AsyncGenerator<readonly SiteStandings[]> {
    for await (const { ids } of sitePortions(this.store.db, seen, AT_ONCE)) {
      await this.#learn(ids, packs);
      yield ids.flatMap((id) => {
        const known = this.#known.get(id);
        return known === undefined ? [] : [standings(id, known, papers)];
      });
    }
  }

  /** Reads the files that have changed since they were last read, or all of a portion where a rule has. */
  async #learn(sites: readonly string[], packs: readonly RulePack[]): Promise<void> {
    const { db } = this.store;
    const rows = await db.selectFrom("site").select(["id", "digest"]).where("id", "in", sites).execute();
    const stale = rows.flatMap(({ id, digest }) => {
      const known = this.#known.get(id);
      return known?.textDigest === digest && known.packs === packs ? [] : [id];
    });
    for (let from = 0; from < stale.length; from += READ_AT_ONCE) {
      const read = await db
        .selectFrom("site")
        .select(["id", "digest", "site_json"])
        .where("id", "in", stale.slice(from, from + READ_AT_ONCE))
        .execute();
      for (const { id, digest, site_json } of read) {
        const site = JSON.parse(site_json) as Site;
        const name = site.name ?? null;
        this.#known.set(id, {
          textDigest: digest,
          packs,
          name,
          digests: siteDigests(site, packs, this.digest),
        });
      }
      await othersFirst();
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
