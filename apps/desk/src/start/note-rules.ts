import { appendJournal, type DeskStore } from "../store/index.ts";
import { noteSetAside } from "../rules/note-set-aside.ts";
import type { RuleBook } from "../rules/rule-book.ts";
import type { OwnPack } from "../settings/set-up.ts";

/** Puts on record by which rules the desk goes from this start on, where that has changed since it was noted last. */
export async function noteRules(
  store: DeskStore,
  rules: Pick<RuleBook, "own" | "overrides" | "setAside">,
  at: number,
): Promise<void> {
  await notePacks(store, rules.own, at);
  await noteSetAside(store, rules, at);
}

async function notePacks(store: DeskStore, packs: readonly OwnPack[], at: number): Promise<void> {
  await store.amend(async (tx) => {
    for (const one of packs) {
      const subject = `rules ${one.pack.id}`;
      const last = await tx
        .selectFrom("journal")
        .select("text")
        .where("kind", "=", "watch")
        .where("subject", "=", subject)
        .where("text", "like", `${BEGINS}%`)
        .orderBy("sequence", "desc")
        .limit(1)
        .executeTakeFirst();
      const text = wordsOf(one);
      if (last?.text === text) continue;
      const by = one.pack.override?.by ?? null;
      await appendJournal(tx, [{ at, kind: "watch", site: null, subject, by, text }]);
    }
  });
}

/** What is put on record of overrides has the same subject. */
const BEGINS = "Decisions go by ";

function wordsOf({ file, digest, pack: { title, override } }: OwnPack): string {
  const why = override === undefined ? "its file does not say why" : override.because;
  return `${BEGINS}${title}, from ${file}, SHA-256 ${digest}: ${why}.`;
}
