import type { Alarm, Case, Drill } from "@earthbell/model";
import type { Draft } from "./draft.ts";
import type { SiteDraft } from "./site-room.ts";

/** Something that people take steps on, with its site. */
export type Found =
  | { readonly kind: "alarm"; readonly site: SiteDraft; readonly alarm: Alarm }
  | { readonly kind: "case"; readonly site: SiteDraft; readonly one: Case }
  | { readonly kind: "drill"; readonly site: SiteDraft; readonly drill: Drill };

/** Finds an alarm, a case or a drill by its id; null where nothing has it, or its site was removed. */
export async function findMatter(draft: Draft, id: string): Promise<Found | null> {
  const where = await siteOf(draft, id);
  if (where === null) return null;
  await draft.enter([where]);
  const site = draft.sites.get(where);
  if (site === undefined) return null;
  const alarm = site.alarms.get(id);
  if (alarm !== undefined) return { kind: "alarm", site, alarm };
  const one = site.cases.get(id) ?? (await oldCase(draft, id));
  if (one !== null) return { kind: "case", site, one };
  const drill = site.drills.get(id) ?? (await oldDrill(draft, id));
  return drill === null ? null : { kind: "drill", site, drill };
}

async function siteOf({ tx }: Draft, id: string): Promise<string | null> {
  for (const table of ["alarm", "fault_case", "drill"] as const) {
    const row = await tx.selectFrom(table).select("site").where("id", "=", id).executeTakeFirst();
    if (row !== undefined) return row.site;
  }
  return null;
}

/** A case closed long ago still takes remarks. */
async function oldCase({ tx }: Draft, id: string): Promise<Case | null> {
  const row = await tx.selectFrom("fault_case").select("case_json").where("id", "=", id).executeTakeFirst();
  return row === undefined ? null : (JSON.parse(row.case_json) as Case);
}

async function oldDrill({ tx }: Draft, id: string): Promise<Drill | null> {
  const row = await tx.selectFrom("drill").select("drill_json").where("id", "=", id).executeTakeFirst();
  return row === undefined ? null : (JSON.parse(row.drill_json) as Drill);
}
