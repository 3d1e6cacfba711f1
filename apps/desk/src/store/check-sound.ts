import type { Asking } from "./asking.ts";
import type { Soundness } from "./desk-store.ts";
import { brokenJournalAt } from "./journal.ts";

/** Whether the tables agree with one another and the journal is as it was written. */
export async function checkSound(db: Asking, found: readonly string[]): Promise<Soundness> {
  const problems = [...found];
  const broken = await brokenJournalAt(db);
  if (broken !== null) problems.push(`The journal does not hold from row ${broken} on.`);
  const uncovered = await db
    .selectFrom("outbox_cover")
    .leftJoin("outbox", "outbox.key", "outbox_cover.outbox_key")
    .select("outbox_cover.way_key")
    .where("outbox.key", "is", null)
    .execute();
  for (const { way_key } of uncovered) problems.push(`Message ${way_key} is in no row of the outbox.`);
  const unrecorded = await db
    .selectFrom("outbox_cover as cover")
    .innerJoin("outbox", "outbox.key", "cover.outbox_key")
    .leftJoin("delivery", (join) =>
      join
        .onRef("delivery.matter", "=", "cover.matter")
        .onRef("delivery.path_id", "=", "cover.path_id")
        .onRef("delivery.person", "=", "cover.person")
        .onRef("delivery.sequence", "=", "cover.sequence"),
    )
    .select("cover.way_key")
    .where("outbox.state", "=", "sent")
    .where("delivery.matter", "is", null)
    .execute();
  for (const { way_key } of unrecorded) problems.push(`Message ${way_key} was sent and is not recorded.`);
  const unlooked = await db
    .selectFrom("alarm")
    .innerJoin("site", "site.id", "alarm.site")
    .leftJoin("next_look", "next_look.site", "alarm.site")
    .select("alarm.id")
    .where("alarm.condition", "=", "active")
    .where("site.removed_at", "is", null)
    .where("next_look.site", "is", null)
    .execute();
  for (const { id } of unlooked) problems.push(`Alarm ${id} is active and nothing looks at its site again.`);
  return { sound: problems.length === 0, problems };
}
