import { fitsWords } from "@earthbell/model";
import { SITE_PAPERS, type SitePaper } from "@earthbell/papers";
import type { PaperState, SiteStandings } from "./site-standings.ts";

/** Which sites are asked for: those whose name or id holds every word, and of which a paper of some kind stands so. */
export interface AskedSites {
  readonly find: string;
  readonly kind: SitePaper | "any";
  readonly state: PaperState | "any";
}

export interface PaperStates {
  /** All sites, whether asked for or not. */
  readonly count: number;
  /** Those that are asked for. */
  readonly fits: number;
  /** Of those, how many lack a paper of a kind or have it outdated. */
  readonly toMake: Readonly<Record<SitePaper, number>>;
  /** The first of them, in the order of their ids. */
  readonly sites: readonly SiteStandings[];
}

/** Whether a site is one of those asked for. */
export function fitting({ find, kind, state }: AskedSites): (site: SiteStandings) => boolean {
  const fits = fitsWords(find);
  const kinds = kind === "any" ? SITE_PAPERS : [kind];
  return ({ id, name, papers }) => {
    if (state !== "any" && !kinds.some((one) => papers[one] === state)) return false;
    return fits(`${id} ${name ?? ""}`);
  };
}

/** Lacking or outdated. */
export function isToMake({ papers }: SiteStandings, kind: SitePaper): boolean {
  return papers[kind] !== "current";
}

/** The first sites that are asked for, with the others counted. */
export async function paperStates(
  portions: AsyncIterable<readonly SiteStandings[]>,
  asked: AskedSites,
  most: number,
): Promise<PaperStates> {
  const fits = fitting(asked);
  const toMake = Object.fromEntries(SITE_PAPERS.map((kind) => [kind, 0])) as Record<SitePaper, number>;
  const sites: SiteStandings[] = [];
  let [count, fitted] = [0, 0];
  for await (const portion of portions)
    for (const site of portion) {
      count += 1;
      if (!fits(site)) continue;
      fitted += 1;
      if (sites.length < most) sites.push(site);
      for (const kind of SITE_PAPERS) if (isToMake(site, kind)) toMake[kind] += 1;
    }
  return { count, fits: fitted, toMake, sites };
}
