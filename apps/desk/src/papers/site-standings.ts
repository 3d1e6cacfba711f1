import type { RulePack, Site } from "@earthbell/engine";
import { type Digest, SITE_PAPERS, type SiteDigests, siteDigests, type SitePaper } from "@earthbell/papers";
import { othersFirst } from "../others-first.ts";
import type { Seen } from "../overview/bound-to.ts";
import { siteNamesOf } from "../overview/site-names.ts";
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
  readonly digests: SiteDigests;
}

/** Papers of one site by their kind. */
type OwnPapers = Partial<Record<SitePaper, KnownPaper>>;

/** Files that are read before other work of the desk gets its turn: each takes up to a thousandth of a second or two. */
const READ_AT_ONCE = 10;

/**
 * How the papers of sites stand. What was worked out for a site file holds until that file, or a rule of the desk, changes;
 * for a site without a paper nothing is worked out.
 */
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
    const issued = papersBySite(papers);
    for await (const portion of siteNamesOf(this.store.db).portions(seen)) {
      await this.#learn(
        portion.flatMap(({ id }) => (issued.has(id) ? [id] : [])),
        packs,
      );
      yield portion.map(({ id, name }) => {
        const digests = this.#known.get(id)?.digests;
        const own = issued.get(id);
        return { id, name, papers: own && digests ? standings(own, digests) : NONE_ISSUED };
      });
    }
  }

  /** Reads the files that have changed since they were last read, or all of them where a rule has. */
  async #learn(sites: readonly string[], packs: readonly RulePack[]): Promise<void> {
    if (sites.length === 0) return;
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
        const digests = siteDigests(JSON.parse(site_json) as Site, packs, this.digest);
        this.#known.set(id, { textDigest: digest, packs, digests });
      }
      await othersFirst();
    }
  }
}

/** The English papers of sites, which are those that are told of in a list. */
function papersBySite(papers: ReadonlyMap<string, KnownPaper>): ReadonlyMap<string, OwnPapers> {
  const sites = new Map<string, OwnPapers>();
  for (const paper of papers.values()) {
    const kind = SITE_PAPERS.find((one) => one === paper.kind);
    if (kind === undefined || paper.language !== "en") continue;
    const own = sites.get(paper.of) ?? {};
    own[kind] = paper;
    sites.set(paper.of, own);
  }
  return sites;
}

function standings(own: OwnPapers, digests: SiteDigests): SiteStandings["papers"] {
  const entries = SITE_PAPERS.map((kind) => [kind, standingOf(own[kind], digests)]);
  return Object.fromEntries(entries) as Record<SitePaper, PaperState>;
}

const NONE_ISSUED = Object.fromEntries(SITE_PAPERS.map((kind) => [kind, "lacking"])) as Readonly<
  Record<SitePaper, PaperState>
>;

/** How an issued paper of a site stands against the site file and the rules of today. */
export function standingOf(paper: KnownPaper | undefined, digests: SiteDigests): PaperState {
  if (paper === undefined) return "lacking";
  return paper.siteDigest === digests[paper.kind as SitePaper] ? "current" : "outdated";
}
