import { type PaperState, SITE_KINDS, type SiteKind, type SitePapers } from "./paper-records.ts";

/** Which sites are shown: all, or those where a paper of some kind stands so. */
export interface Asked {
  readonly find: string;
  readonly kind: SiteKind | "any";
  readonly state: PaperState | "any";
}

const plain = (text: string): string => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();

/** The sites that are asked for, in the order in which the desk has them. */
export function sitesAsked(
  sites: readonly SitePapers[],
  { find, kind, state }: Asked,
): readonly SitePapers[] {
  const words = plain(find).split(/\s+/u).filter(Boolean);
  const kinds = kind === "any" ? SITE_KINDS : [kind];
  return sites.filter(({ id, name, papers }) => {
    const text = plain(`${id} ${name ?? ""}`);
    return (
      words.every((word) => text.includes(word)) &&
      (state === "any" || kinds.some((one) => papers[one] === state))
    );
  });
}

/** Papers of one kind that are to be made: lacking or outdated, at these sites. */
export function toMake(sites: readonly SitePapers[], kind: SiteKind): readonly string[] {
  return sites.filter(({ papers }) => papers[kind] !== "current").map(({ id }) => id);
}
