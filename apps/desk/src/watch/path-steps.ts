import type { Rung } from "@earthbell/model";
import { done, notDone } from "./answers.ts";
import { type Draft, noteHappening } from "./draft.ts";
import { beginDrill } from "./drills.ts";
import type { Telling } from "./occasions.ts";
import { tellPaths, wayName } from "./recipients.ts";
import { brokenWays } from "./rounds.ts";
import type { SiteDraft } from "./site-room.ts";
import type { Answer, NotDone, Way } from "./watch.ts";

/** Enters the site of a message path. */
async function enterPath(draft: Draft, siteId: string, path: string): Promise<SiteDraft | NotDone> {
  await draft.enter([siteId]);
  const site = draft.sites.get(siteId);
  if (site === undefined) return notDone("DESK_SITE_UNKNOWN", `There is no site ${siteId}.`);
  if (!tellPaths(site).some(({ id }) => id === path))
    return notDone("DESK_PATH_UNKNOWN", `Site ${siteId} has no message path ${path}.`);
  return site;
}

function isRefused(entered: SiteDraft | NotDone): entered is NotDone {
  return "ok" in entered;
}

/** Whom a path tells next when nobody answers. */
export async function putLadder(
  draft: Draft,
  place: { readonly site: string; readonly path: string },
  rungs: readonly Rung[],
  by: string,
): Promise<Answer> {
  const site = await enterPath(draft, place.site, place.path);
  if (isRefused(site)) return site;
  if (by.trim() === "")
    return notDone("DESK_NAME_MISSING", "Give the name of the person who sets the ladder.");
  const wrong = ladderProblem(site, rungs);
  if (wrong !== null) return notDone("DESK_LADDER_INVALID", wrong);
  const row = { rungs_json: JSON.stringify(rungs), put_at: draft.now, put_by: by };
  await draft.tx
    .insertInto("ladder")
    .values({ site: place.site, path_id: place.path, ...row })
    .onConflict((conflict) => conflict.columns(["site", "path_id"]).doUpdateSet(row))
    .execute();
  site.ladders.set(place.path, { path: place.path, rungs });
  site.changed = true;
  const steps = rungs.map(({ afterMin, to }) => `after ${afterMin} min ${to.join(", ")}`).join("; ");
  const text = `Ladder of path ${place.path}: ${steps === "" ? "none" : steps}.`;
  noteHappening(draft, { kind: "site", site: site.id, subject: place.path, by, text });
  return done(text, {});
}

function ladderProblem({ filed }: SiteDraft, rungs: readonly Rung[]): string | null {
  let last = 0;
  for (const { afterMin, to } of rungs) {
    if (!Number.isInteger(afterMin) || afterMin <= last)
      return `${afterMin} min does not come after ${last} min.`;
    if (to.length === 0) return `The step after ${afterMin} min names nobody.`;
    const stranger = to.find((id) => filed.site.people.every((person) => person.id !== id));
    if (stranger !== undefined) return `${stranger} is not among the people of the site.`;
    last = afterMin;
  }
  return null;
}

/** Begins a drill of a path now. */
export async function startPathDrill(
  draft: Draft,
  place: { readonly site: string; readonly path: string },
  by: string,
  telling: Telling,
): Promise<Answer<{ readonly drill: string }>> {
  const site = await enterPath(draft, place.site, place.path);
  if (isRefused(site)) return site;
  const around = { telling, broken: await brokenWays(draft.tx) };
  const step = beginDrill(draft, site, place.path, { kind: "on-demand", by }, around)!;
  return step.ok ? done(step.reason, { drill: step.drill.id }) : step;
}

/** When the next drill of a path begins by itself. */
export async function planDrill(
  draft: Draft,
  place: { readonly site: string; readonly path: string },
  at: number | null,
  by: string,
): Promise<Answer> {
  const site = await enterPath(draft, place.site, place.path);
  if (isRefused(site)) return site;
  if (at !== null && (!Number.isSafeInteger(at) || at <= draft.now))
    return notDone("DESK_PLAN_INVALID", "Give an instant to come, in milliseconds UTC.");
  site.plans.set(place.path, { path: place.path, at });
  site.changed = true;
  const when = at === null ? "no drill is planned" : `the next drill begins ${new Date(at).toISOString()}`;
  const text = `Path ${place.path}: ${when}.`;
  noteHappening(draft, { kind: "drill", site: site.id, subject: place.path, by, text });
  return done(text, {});
}

/** Takes an address off the list of those that reach nobody, and has every site look at its people again. */
export async function mendWay(draft: Draft, way: Way, by: string): Promise<Answer> {
  if (by.trim() === "") return notDone("DESK_NAME_MISSING", "Give the name of the person who mended it.");
  await draft.tx
    .deleteFrom("broken_way")
    .where("channel", "=", way.channel)
    .where("address", "=", way.address)
    .execute();
  await draft.tx.updateTable("next_look").set({ at: draft.now }).execute();
  const text = `${wayName(way)} is taken to reach its person again.`;
  noteHappening(draft, { kind: "person", site: null, subject: wayName(way), by, text });
  return done(text, {});
}
