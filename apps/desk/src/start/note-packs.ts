import { appendJournal, type DeskStore } from "../store/index.ts";
import type { OwnPack } from "../settings/set-up.ts";

/** Puts on record which rule packs of its own the desk goes by, where that has changed since it was noted last. */
export async function notePacks(store: DeskStore, packs: readonly OwnPack[], at: number): Promise<void> {
  await store.amend(async (tx) => {
    for (const one of packs) {
      const subject = `rules ${one.pack.id}`;
      const last = await tx
        .selectFrom("journal")
        .select("text")
        .where("kind", "=", "watch")
        .where("subject", "=", subject)
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

function wordsOf({ file, digest, pack: { title, override } }: OwnPack): string {
  const why = override === undefined ? "its file does not say why" : override.because;
  return `Decisions go by ${title}, from ${file}, SHA-256 ${digest}: ${why}.`;
}
