import { createHash } from "node:crypto";
import { type PlannedMessage, planMessages, type PendingMessage, type StormAlarm } from "@earthbell/model";
import type { Envelope } from "../tell/channel.ts";
import { type Draft, noteHappening } from "./draft.ts";
import { issueLink } from "./links.ts";
import { occasionOf, stormOccasionOf, type Telling } from "./occasions.ts";
import type { Pending } from "./pending.ts";
import { wayName } from "./recipients.ts";

/**
 * Writes decided messages into the outbox. Many to one address at once go in groups; drills, and what has cleared, are
 * never mixed with faults.
 */
export async function writeMessages(
  draft: Draft,
  pending: readonly Pending[],
  telling: Telling,
): Promise<void> {
  for (const one of pending.filter(isSingle)) await writeOne(draft, one, telling);
  const groupable = pending.filter((one) => !isSingle(one));
  for (const cleared of [false, true]) {
    const own = groupable.filter(({ message }) => (message.kind === "cleared") === cleared);
    const byKey = new Map(own.map((one) => [one.wayKey, one]));
    for (const planned of planMessages(own.map(stormPending), draft.limits)) {
      const covered = planned.covers.map((key) => byKey.get(key)!);
      if (covered.length === 1) await writeOne(draft, covered[0]!, telling);
      else await writeGroup(draft, planned, covered, telling);
    }
  }
}

function isSingle({ matter, before }: Pending): boolean {
  return matter.kind === "drill" || matter.alarms.length === 0 || before !== null;
}

/** Storms are planned by address: one person may be named at many sites, in different words. */
function stormPending({ way, wayKey, site, matter }: Pending): PendingMessage {
  const { place } = site.filed.site;
  const region = place.region === undefined ? place.country : `${place.country}-${place.region}`;
  const alarms = matter.kind === "drill" ? [] : matter.alarms;
  const [first, ...others] = alarms.map(
    ({ id, sign, activeAt }): StormAlarm => ({
      id,
      site: site.id,
      sign,
      at: activeAt ?? 0,
      gateway: null,
      region,
    }),
  );
  return { person: wayName(way), site: site.id, key: wayKey, alarms: [first!, ...others] };
}

async function writeOne(draft: Draft, one: Pending, telling: Telling): Promise<void> {
  const { message, wayKey, person, way, site, before } = one;
  const url = await linkFor(draft, one, wayKey, telling);
  const written = telling.words(occasionOf(one, draft, url));
  const envelope: Envelope = {
    key: wayKey,
    ...way,
    person: person.id,
    site: site.id,
    matter: message.matter,
    kind: message.kind,
    sequence: message.sequence,
    ...written,
    ...(url === undefined ? {} : { acknowledgeUrl: url }),
    writtenAt: draft.now,
  };
  if (before !== null) await withdraw(draft, before.outboxKey);
  await store(draft, envelope, one.reason.text, [one]);
}

async function writeGroup(
  draft: Draft,
  planned: PlannedMessage,
  covered: readonly Pending[],
  telling: Telling,
): Promise<void> {
  const first = covered[0]!;
  const keys = planned.covers.toSorted();
  const key = JSON.stringify(["group", createHash("sha256").update(keys.join("\n")).digest("hex")]);
  const url = await linkFor(draft, first, key, telling);
  const written = telling.words(stormOccasionOf(planned, covered, draft, url));
  const envelope: Envelope = {
    key,
    ...first.way,
    person: first.person.id,
    site: first.site.id,
    matter: first.message.matter,
    kind: first.message.kind,
    sequence: first.message.sequence,
    ...written,
    ...(url === undefined ? {} : { acknowledgeUrl: url }),
    writtenAt: draft.now,
  };
  await store(draft, envelope, `${planned.heading}: ${covered.length} messages in one.`, covered);
}

/** What is being told as cleared or closed asks for no answer. */
async function linkFor(
  draft: Draft,
  { message, person }: Pending,
  outboxKey: string,
  { acknowledgeAt, linkHoldsMs }: Telling,
): Promise<string | undefined> {
  if (message.kind === "cleared") return undefined;
  const token = await issueLink(draft.tx, { outboxKey, person: person.id }, draft.now, linkHoldsMs);
  return `${acknowledgeAt}${token}`;
}

/** A row that nobody has got, to be written anew under the same key. */
async function withdraw({ tx }: Draft, outboxKey: string): Promise<void> {
  await tx.deleteFrom("outbox_cover").where("outbox_key", "=", outboxKey).execute();
  await tx.deleteFrom("outbox").where("key", "=", outboxKey).execute();
}

async function store(
  draft: Draft,
  envelope: Envelope,
  reason: string,
  covered: readonly Pending[],
): Promise<void> {
  await putInOutbox(draft, envelope, reason);
  for (const { wayKey, site, message } of covered) {
    await draft.tx
      .insertInto("outbox_cover")
      .values({
        way_key: wayKey,
        outbox_key: envelope.key,
        site: site.id,
        matter: message.matter,
        path_id: message.path,
        person: message.person,
        kind: message.kind,
        sequence: message.sequence,
        told_json: JSON.stringify(message.told),
      })
      .execute();
  }
}

/** Puts an envelope into the outbox, due at once; one whose key is there already is there for good. */
export async function putInOutbox(draft: Draft, envelope: Envelope, reason: string): Promise<void> {
  const { key, channel, address, person, site, matter, kind, sequence } = envelope;
  await draft.tx
    .insertInto("outbox")
    .values({
      ...{ key, channel, address, person, site, matter, kind, sequence },
      state: "waiting",
      envelope_json: JSON.stringify(envelope),
      reason,
      written_at: draft.now,
      due_at: draft.now,
      attempts: 0,
      lease_until: null,
      claimed_by: null,
      finished_at: null,
      reply: null,
    })
    .onConflict((conflict) => conflict.column("key").doNothing())
    .execute();
  const text = `To ${person} by ${channel}: ${reason}`;
  noteHappening(draft, { kind: "message", site, subject: matter, by: null, text });
}
