import type { VisitBeginning, VisitEntry } from "@earthbell/model";
import { appendJournal, type DeskStore, type VisitTable, type Writing } from "../store/index.ts";
import { fullWords, MOST_ENTRIES } from "./visit-room.ts";

export interface Handed {
  readonly visit: string;
  readonly beginning: VisitBeginning;
  readonly entries: readonly VisitEntry[];
}

export type Taken =
  | { readonly ok: true; readonly fresh: number }
  | {
      readonly ok: false;
      readonly code: "VISIT_ELSEWHERE" | "VISIT_ENTRY_DIFFERS" | "VISIT_FULL";
      readonly text: string;
    };

/**
 * Takes in what somebody entered on a visit. What is on record already is left as it is, so that the same may be sent any
 * number of times; all of it is taken in, or nothing.
 */
export async function takeEntries(store: DeskStore, handed: Handed, by: string, now: number): Promise<Taken> {
  return store.amend(async (tx) => {
    const known = await tx.selectFrom("visit").selectAll().where("id", "=", handed.visit).executeTakeFirst();
    const { site } = handed.beginning;
    if (known !== undefined && known.site !== site)
      return refusal("VISIT_ELSEWHERE", `Visit ${handed.visit} is one of site ${known.site}.`);
    const stored = known === undefined ? new Map<string, string>() : await entriesOf(tx, handed.visit);
    const rows = handed.entries.map((entry) => ({ id: entry.id, entry_json: entryJson(entry) }));
    const differs = rows.find(({ id, entry_json }) => (stored.get(id) ?? entry_json) !== entry_json);
    if (differs !== undefined)
      return refusal("VISIT_ENTRY_DIFFERS", `Entry ${differs.id} is on record with another content.`);
    const fresh = [...new Map(rows.map((row) => [row.id, row])).values()].filter(({ id }) => !stored.has(id));
    if (stored.size + fresh.length > MOST_ENTRIES)
      return refusal("VISIT_FULL", fullWords(handed.visit, MOST_ENTRIES, "entries"));
    if (known === undefined)
      await tx
        .insertInto("visit")
        .values(visitRow(handed, by, now))
        .execute();
    for (const row of fresh)
      await tx
        .insertInto("visit_entry")
        .values({ visit: handed.visit, by, received_at: now, ...row })
        .execute();
    if (known === undefined || fresh.length > 0)
      await appendJournal(tx, [
        {
          at: now,
          kind: "visit",
          site,
          subject: handed.visit,
          by,
          text: `${by} ${known === undefined ? "handed over" : "added to"} visit ${handed.beginning.title}: ${counted(fresh.length)}.`,
        },
      ]);
    return { ok: true, fresh: fresh.length };
  });
}

const counted = (entries: number): string => (entries === 1 ? "one entry" : `${String(entries)} entries`);

function refusal(code: Extract<Taken, { ok: false }>["code"], text: string): Taken {
  return { ok: false, code, text };
}

/** Who entered it is said by the column beside. */
function entryJson(entry: VisitEntry): string {
  const { by: _, ...said } = entry;
  return JSON.stringify(Object.entries(said).sort(([a], [b]) => (a < b ? -1 : 1)));
}

export function entryOf(row: { readonly entry_json: string; readonly by: string }): VisitEntry {
  const said = Object.fromEntries(JSON.parse(row.entry_json) as [string, unknown][]);
  return { ...said, by: row.by } as unknown as VisitEntry;
}

async function entriesOf(tx: Writing, visit: string): Promise<Map<string, string>> {
  const rows = await tx
    .selectFrom("visit_entry")
    .select(["id", "entry_json"])
    .where("visit", "=", visit)
    .execute();
  return new Map(rows.map(({ id, entry_json }) => [id, entry_json]));
}

function visitRow({ visit, beginning }: Handed, by: string, now: number): VisitTable {
  return {
    id: visit,
    site: beginning.site,
    case_id: beginning.case,
    title: beginning.title,
    begun_at: beginning.begunAt,
    set_up_json: JSON.stringify(beginning.setUp),
    by,
    received_at: now,
  };
}
