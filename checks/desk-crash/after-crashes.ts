import type { DeskStore } from "../../apps/desk/src/store/index.ts";
import type { LoopEnd } from "./crash-loop.ts";

const PEOPLE = ["ann", "ben"];

/** What is wrong with a desk after its crashes; all of it has to be empty. */
export interface Harm {
  /** Readings that were acknowledged and are not in the store, or are there and were not acknowledged. */
  readonly readings: readonly string[];
  /** Sites whose fault is not one active alarm in one open case. */
  readonly faults: readonly string[];
  /** Person and site: nobody told them. */
  readonly untold: readonly string[];
  /** Messages that went out under two keys. */
  readonly underTwoKeys: readonly string[];
  /** Messages that went out and are not recorded as sent, or are recorded and did not go out. */
  readonly unrecorded: readonly string[];
  /** What the store says of itself. */
  readonly unsound: readonly string[];
}

export async function harmOf(store: DeskStore, end: LoopEnd): Promise<Harm> {
  const { db } = store;
  const readings = await db.selectFrom("reading").select("key").execute();
  const recorded = await db.selectFrom("outbox").select("key").where("state", "=", "sent").execute();
  const sentKeys = new Set(end.sent.map(({ key }) => key));
  return {
    readings: difference(
      readings.map(({ key }) => key),
      [...end.acknowledged],
    ),
    faults: await brokenFaults(store, end.sites),
    untold: await untold(store, end.sites, sentKeys),
    underTwoKeys: underTwoKeys(end),
    unrecorded: difference(
      recorded.map(({ key }) => key),
      [...sentKeys],
    ),
    unsound: (await store.checkSound()).problems,
  };
}

/** What is in one list and not in the other, or in a list twice. */
function difference(one: readonly string[], other: readonly string[]): readonly string[] {
  const [left, right] = [new Set(one), new Set(other)];
  const twice = one.filter((entry, place) => one.indexOf(entry) !== place);
  return [
    ...one.filter((entry) => !right.has(entry)),
    ...other.filter((entry) => !left.has(entry)),
    ...twice,
  ];
}

async function brokenFaults({ db }: DeskStore, sites: readonly string[]): Promise<readonly string[]> {
  const alarms = await db
    .selectFrom("alarm")
    .select("site")
    .where("sign", "=", "earth-fault-bit")
    .where("condition", "=", "active")
    .where("occurrence", "=", 1)
    .execute();
  const cases = await db.selectFrom("fault_case").select("site").where("closed_at", "is", null).execute();
  return [alarms, cases].flatMap((rows) =>
    difference(
      rows.map(({ site }) => site),
      sites,
    ),
  );
}

async function untold(
  { db }: DeskStore,
  sites: readonly string[],
  sentKeys: ReadonlySet<string>,
): Promise<readonly string[]> {
  const covers = await db.selectFrom("outbox_cover").select(["site", "person", "outbox_key"]).execute();
  const told = new Set(
    covers
      .filter(({ outbox_key }) => sentKeys.has(outbox_key))
      .map(({ site, person }) => `${person} of ${site}`),
  );
  return sites
    .flatMap((site) => PEOPLE.map((person) => `${person} of ${site}`))
    .filter((name) => !told.has(name));
}

function underTwoKeys({ sent }: LoopEnd): readonly string[] {
  const byMessage = new Map<string, Set<string>>();
  for (const { matter, person, kind, sequence, channel, key } of sent) {
    const message = JSON.stringify([matter, person, kind, sequence, channel]);
    byMessage.set(message, (byMessage.get(message) ?? new Set()).add(key));
  }
  return [...byMessage].filter(([, keys]) => keys.size > 1).map(([message]) => message);
}
