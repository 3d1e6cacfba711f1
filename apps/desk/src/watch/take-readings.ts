import { createHash } from "node:crypto";
import { checkReading, type WatchReading } from "@earthbell/model";
import type { Bulk } from "../store/bulk.ts";
import type { LastKnownTable, ReadingTable } from "../store/index.ts";
import { detectInSites } from "./detect-in-sites.ts";
import type { Draft } from "./draft.ts";
import { knownKey } from "./site-room.ts";
import type { SiteReading } from "./site-reading.ts";
import type { AcceptStep } from "./watch.ts";

/** What became of one reading. */
export type Outcome = "taken" | "known" | { readonly setAside: string };

/** A reading on its way in, with its place among those that came with it. */
interface Incoming extends SiteReading {
  readonly place: number;
  readonly row: ReadingTable;
}

/**
 * Takes readings in: each is checked, kept by its key, and looked at by the detectors of the arrays it speaks of.
 *
 * @returns the outcome of each reading, in the order of the readings
 */
export async function takeReadings(
  draft: Draft,
  bulk: Bulk,
  inputs: readonly unknown[],
  step: (name: AcceptStep) => void,
): Promise<readonly Outcome[]> {
  const outcomes: Outcome[] = [];
  const incoming = await sortIn(draft, inputs, outcomes);
  const raw: Incoming[] = [];
  for (const one of incoming) {
    const array_id = isNamed(one) ? one.row.array_id : "";
    const name = knownKey(one.reading, array_id);
    const last = one.site.known.get(name);
    if (isToKeep(one, last)) raw.push(one);
    else outcomes[one.place] = last?.key === one.row.key ? "known" : "taken";
    one.site.known.set(name, newest(last, one.row, array_id));
  }
  const added = await bulk.addReadings(
    draft.tx,
    raw.map(({ row }) => row),
  );
  // Of two with one key in one batch the first is taken.
  for (const one of raw) outcomes[one.place] = added.delete(one.row.key) ? "taken" : "known";
  step("accept-readings");
  const taken = incoming.filter(({ place }) => outcomes[place] === "taken");
  detectInSites(draft, taken);
  return outcomes;
}

/** Sets aside what cannot be taken, and dates the rest. Fills in the outcome of what is decided by that. */
async function sortIn(draft: Draft, inputs: readonly unknown[], outcomes: Outcome[]): Promise<Incoming[]> {
  const checked = inputs.map((input) => checkReading(input));
  const sites = new Set<string>();
  for (const one of checked) if (one.ok) sites.add(one.reading.site);
  await draft.enter([...sites]);
  const incoming: Incoming[] = [];
  for (const [place, one] of checked.entries()) {
    const site = one.ok ? draft.sites.get(one.reading.site) : undefined;
    if (one.ok && site !== undefined) {
      const reading = datedNow(one.reading, draft.now);
      incoming.push({ reading, site, place, row: readingRow(reading, draft.now) });
      continue;
    }
    const reason = one.ok
      ? `Site ${one.reading.site} is not known here. Put its file in.`
      : one.refusals.map(({ code, field, allowed }) => `${code}: ${field}: ${allowed}`).join("; ");
    outcomes[place] = { setAside: reason };
    await setAside(draft, inputs[place], reason, one.ok ? one.reading : null);
  }
  return incoming;
}

/**
 * No reading is dated ahead of the desk, not even by the little that a clock may be ahead: an alarm that seems to have come
 * after the answer to it could not be acknowledged.
 */
function datedNow(reading: WatchReading, now: number): WatchReading {
  return reading.at > now ? { ...reading, at: now } : reading;
}

/**
 * A healthy bit that repeats itself and a heartbeat are known from their newest one alone. Whatever reports a fault is kept,
 * so that the same report delivered twice is known by its key for weeks.
 */
function isToKeep({ reading, row }: Incoming, last: LastKnownTable | undefined): boolean {
  if (reading.kind === "heartbeat") return false;
  if (reading.quality === "good" && typeof reading.value === "number") return true;
  if (reading.quality === "good" && reading.value === true) return true;
  return (
    last === undefined ||
    last.value_number !== row.value_number ||
    last.value_word !== row.value_word ||
    last.quality !== row.quality
  );
}

export function readingRow(reading: WatchReading, receivedAt: number): ReadingTable {
  const { value } = reading;
  return {
    site: reading.site,
    array_id: reading.array ?? "",
    device: reading.device,
    source: reading.source,
    kind: reading.kind,
    at: reading.at,
    value_number: typeof value === "string" || value === null ? null : Number(value),
    value_word: typeof value === "string" ? value : null,
    quality: reading.quality,
    key: reading.key,
    received_at: receivedAt,
  };
}

/** An array that the site file does not name is read as all arrays of the device, and its reading is known as one of the device. */
function isNamed({ reading, site }: Incoming): boolean {
  return site.filed.site.arrays.some(({ id }) => id === reading.array);
}

/** Written out: a copy by spreading costs several times as much, and every reading has one. */
function knownRow(row: ReadingTable, array_id: string, good_at: number | null): LastKnownTable {
  return {
    site: row.site,
    array_id,
    device: row.device,
    source: row.source,
    kind: row.kind,
    at: row.at,
    value_number: row.value_number,
    value_word: row.value_word,
    quality: row.quality,
    key: row.key,
    received_at: row.received_at,
    good_at,
  };
}

/** The newer of what was known and what comes; the newest good one counts even if something that is not good came since. */
function newest(last: LastKnownTable | undefined, coming: ReadingTable, array_id: string): LastKnownTable {
  const goodAt = coming.quality === "good" ? coming.at : null;
  const lastGoodAt = last?.good_at ?? null;
  const good_at = goodAt === null || (lastGoodAt !== null && lastGoodAt > goodAt) ? lastGoodAt : goodAt;
  if (last === undefined || coming.at >= last.at) return knownRow(coming, array_id, good_at);
  return good_at === last.good_at ? last : { ...last, good_at };
}

const LONGEST_KEPT = 4000;

async function setAside(
  { tx, now }: Draft,
  input: unknown,
  reason: string,
  reading: WatchReading | null,
): Promise<void> {
  // A listener may pass on anything, and nothing at all has no JSON.
  const text = (JSON.stringify(input) as string | undefined) ?? "nothing";
  const row = {
    id: createHash("sha256").update(text).digest("hex"),
    key: reading?.key ?? keyOf(input),
    site: reading?.site ?? null,
    reason,
    reading_json: text.slice(0, LONGEST_KEPT),
    received_at: now,
    times: 1,
  };
  await tx
    .insertInto("set_aside")
    .values(row)
    .onConflict((conflict) =>
      conflict.column("id").doUpdateSet((eb) => ({
        reason: row.reason,
        received_at: now,
        times: eb("set_aside.times", "+", 1),
      })),
    )
    .execute();
}

/** The key under which a listener knows what it passed on, as far as there is one. */
export function keyOf(input: unknown): string {
  const key = typeof input === "object" && input !== null ? (input as { readonly key?: unknown }).key : null;
  return typeof key === "string" ? key.slice(0, 200) : "";
}
