import type { DeskStore } from "../../apps/desk/src/store/index.ts";
import { siteText, smallDesk } from "../../apps/desk/src/watch/desk.fixture.ts";

/** Tables that the story writes to. */
export const STORY_TABLES = [
  "alarm",
  "fault_case",
  "detector",
  "reading",
  "last_known",
  "insulation_day",
  "delivery",
  "outbox",
  "outbox_cover",
  "path_watch",
  "drill",
  "next_look",
  "journal",
] as const;

/** Four days of a site with a fault, a drill each day; the rows that it leaves, links aside. */
export async function story(store: DeskStore): Promise<Record<string, readonly string[]>> {
  const desk = await smallDesk({ store, words: ({ about, site }) => ({ subject: about, text: site.id }) });
  await desk.watch.start();
  await desk.watch.putSite(siteText(), "Kim");
  for (let day = 0; day < 4; day++) {
    for (const [kind, value] of [
      ["insulation", 9000 + day],
      ["earth-fault-bit", day % 2 === 0],
      ["insulation", 2e6 + day],
    ] as const) {
      await desk.read(kind, value);
      await desk.wait(3 * 3_600_000);
    }
    await desk.watch.startDrill("tarn", "P1", "Kim");
    await desk.wait(15 * 3_600_000);
  }
  const rows = await Promise.all(
    STORY_TABLES.map(async (table) => {
      const all = await store.db.selectFrom(table).selectAll().execute();
      return [
        table,
        all.map((row) => withoutToken(JSON.stringify(row, Object.keys(row).toSorted()))).toSorted(),
      ] as const;
    }),
  );
  return Object.fromEntries(rows);
}

function withoutToken(row: string): string {
  return row.replaceAll(/example\/a\/eb_[\w-]{43}/gu, "link");
}
