import {
  assessSite,
  isAside,
  isOverridden,
  monthsLater,
  type OverridableValue,
  PROOF_HOLDS_MONTHS,
  type RulePack,
  rulesUsed,
  type Site,
} from "@earthbell/engine";
import { siteName } from "../../content/site-name.ts";

/** One line of the register: one array on one path, or an array that no path serves. */
export interface RegisterRow {
  readonly site: string;
  readonly siteName: string;
  readonly array: string;
  readonly duty: "required" | "not-required" | "undecided";
  readonly rulePack: string;
  /** Rule values that duty or verdict rests on and that were overridden, by pack and place; empty: none. */
  readonly overridden: string;
  /** The same of those whose override was set aside, so that the pack's own value holds. */
  readonly setAside: string;
  readonly path: string;
  readonly signal: string;
  readonly verdict: string;
  /** YYYY-MM-DD, or empty: never. */
  readonly lastProof: string;
  /** YYYY-MM-DD; the day of the register where there is no proof yet. */
  readonly nextDue: string;
  readonly overdue: boolean;
  readonly ownerTold: string;
}

/** Every array of every site with its duty, path, last proof and next due, judged for a day. */
export function registerRows(
  sites: readonly Site[],
  onDate: string,
  packs: readonly RulePack[] = [],
): readonly RegisterRow[] {
  return sites.flatMap((site) => rowsOf(site, onDate, packs));
}

function rowsOf(site: Site, onDate: string, packs: readonly RulePack[]): readonly RegisterRow[] {
  const { arrays, paths } = assessSite(site, { onDate, packs });
  const overridden = overriddenOf(site, packs);
  const verdicts = new Map(paths.map(({ path, verdict }) => [path, verdict]));
  return arrays.flatMap(({ array, duty }): readonly RegisterRow[] => {
    const base = {
      site: site.id,
      siteName: siteName(site),
      array,
      duty: duty.alarm,
      rulePack: duty.rulePack ?? "",
      ...overridden(array),
      ownerTold: site.ownerInformed?.on ?? "",
    };
    const serving = site.paths.filter((path) => path.arrays.includes(array));
    const none = { path: "", signal: "none", verdict: "no path", lastProof: "" };
    if (serving.length === 0) {
      const due = duty.alarm === "not-required" ? "" : onDate;
      return [{ ...base, ...none, nextDue: due, overdue: due !== "" }];
    }
    return serving.map(({ id, signal }) => {
      const lastProof = newestProof(site, id, onDate);
      const nextDue = lastProof === "" ? onDate : monthsLater(lastProof, PROOF_HOLDS_MONTHS);
      const overdue = lastProof === "" || nextDue < onDate;
      return { ...base, path: id, signal, verdict: verdicts.get(id) ?? "", lastProof, nextDue, overdue };
    });
  });
}

/** A desk overrides few packs or none, so that most sites have nothing to look up. */
function overriddenOf(
  site: Site,
  packs: readonly RulePack[],
): (array: string) => Pick<RegisterRow, "overridden" | "setAside"> {
  if (packs.length === 0) return () => ({ overridden: "", setAside: "" });
  return (array) => {
    const used = rulesUsed(site, packs, "verdicts", array);
    const those = (are: (value: OverridableValue) => boolean): string =>
      used
        .flatMap(({ pack, values }) => values.filter(are).map(({ field }) => `${pack.id} ${field}`))
        .join("; ");
    return {
      overridden: those(isOverridden),
      setAside: those((one) => isAside(one) && !isOverridden(one)),
    };
  };
}

/** Day of the newest proof up to a day; one dated ahead has not happened. */
function newestProof({ proofs }: Site, path: string, onDate: string): string {
  const days = proofs.filter((proof) => proof.path === path && proof.on <= onDate).map(({ on }) => on);
  return days.sort().at(-1) ?? "";
}
