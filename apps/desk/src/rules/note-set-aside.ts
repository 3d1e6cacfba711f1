import { setAsideWords } from "@earthbell/engine";
import { appendJournal, type DeskStore, type Writing } from "../store/index.ts";
import { isAt, type RuleBook } from "./rule-book.ts";

/**
 * Puts on record which overrides the packs of this start set aside, and which are in force again by them, where that is
 * another answer than was noted last.
 */
export async function noteSetAside(
  store: DeskStore,
  rules: Pick<RuleBook, "overrides" | "setAside">,
  at: number,
): Promise<void> {
  const standing = rules.overrides().filter(({ ended_at }) => ended_at === null);
  if (standing.length === 0) return;
  const aside = rules.setAside();
  await store.amend(async (tx) => {
    for (const one of standing) {
      const about = `Override of ${one.pack}, ${one.field}`;
      const [asideBegins, again] = [
        `${about}. `,
        `${about} in force again: the pack says there what it said.`,
      ];
      const found = aside.find(({ override }) => isAt(override, one));
      const subject = `rules ${one.pack}`;
      const noted = (await textsOf(tx, subject, one.put_at)).find(
        (text) => text.startsWith(asideBegins) || text === again,
      );
      const text =
        found !== undefined
          ? `${asideBegins}${setAsideWords(found)}`
          : noted?.startsWith(asideBegins)
            ? again
            : noted;
      if (text === undefined || text === noted) continue;
      await appendJournal(tx, [{ at, kind: "watch", site: null, subject, by: null, text }]);
    }
  });
}

/** What is on record of a pack since an instant, the newest first. */
async function textsOf(tx: Writing, subject: string, since: number): Promise<readonly string[]> {
  const rows = await tx
    .selectFrom("journal")
    .select("text")
    .where("subject", "=", subject)
    .where("at", ">=", since)
    .orderBy("sequence", "desc")
    .execute();
  return rows.map(({ text }) => text);
}
