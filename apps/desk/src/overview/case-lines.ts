import { type Case, needsToClose } from "@earthbell/model";
import type { Asking } from "../store/index.ts";
import { ofSites, type Seen } from "./bound-to.ts";
import { siteNamesOf } from "./site-names.ts";

/** A case in a line. */
export interface CaseLine {
  readonly id: string;
  readonly site: string;
  readonly name: string | null;
  readonly array: string;
  readonly openedAt: number;
  /** present: the fault is there; ready: nothing is missing to close it; unsigned: something is. */
  readonly state: "closed" | "present" | "ready" | "unsigned";
}

/** The newest cases, each in a line, and how many there are in all. */
export async function caseLines(
  db: Asking,
  seen: Seen,
  { state, limit }: { readonly state: "open" | "closed" | "all"; readonly limit: number },
): Promise<{ readonly count: number; readonly cases: readonly CaseLine[] }> {
  let all = db.selectFrom("fault_case").where(ofSites(seen));
  if (state !== "all") all = all.where("closed_at", state === "open" ? "is" : "is not", null);
  const { count } = await all.select((of) => of.fn.countAll<number>().as("count")).executeTakeFirstOrThrow();
  const rows = await all.select("case_json").orderBy("opened_at", "desc").limit(limit).execute();
  const cases = rows.map(({ case_json }) => JSON.parse(case_json) as Case);
  const names = await siteNamesOf(db).namesOf(cases.map(({ site }) => site));
  return {
    count,
    cases: cases.map((one) => {
      const { id, site, array, openedAt } = one;
      return { id, site, name: names[site] ?? null, array, openedAt, state: stateOf(one) };
    }),
  };
}

function stateOf(one: Case): CaseLine["state"] {
  if (one.closed !== null) return "closed";
  if (one.presentAlarms.length > 0) return "present";
  return needsToClose(one).every(({ met }) => met) ? "ready" : "unsigned";
}
