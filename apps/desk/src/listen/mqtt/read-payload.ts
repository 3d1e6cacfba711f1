import { createHash } from "node:crypto";
import { readTopic, type Topic } from "./topic.ts";

/** One message as it came from the broker. */
export interface Arrival {
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly at: number;
}

/**
 * What a message holds. Records go through the one way into the desk, which checks every field and sets aside what is no
 * reading; a message in which nothing can be looked at becomes one record that is set aside there, with what arrived.
 */
export interface PayloadRead {
  readonly records: readonly unknown[];
  /** Flagged by the device as a rehearsal: moves no alarm. */
  readonly drill: boolean;
  readonly from: Topic | null;
  /** What the device says of itself on its life topic. */
  readonly alive: boolean | null;
  /** Why nothing in it could be looked at; null where it could. */
  readonly problem: string | null;
}

/** Most readings in one message, and most fields of a reading that are looked at; a good one has no more than seven. */
const MOST_READINGS = 1000;
const MOST_FIELDS = 20;
/** As much of a text, or of an unreadable message, as is kept. */
const KEPT_CHARACTERS = 500;
const WITH_ZONE = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(?::\d{2}(?:\.\d{1,9})?)?(?:Z|[+-]\d{2}:\d{2})$/u;

/** Takes a message apart. Never throws, whatever the bytes. */
export function readPayload({ topic, payload, at }: Arrival, prefix: string, source: string): PayloadRead {
  const from = readTopic(topic, prefix);
  const unreadable = (problem: string): PayloadRead => ({
    records: [unreadableRecord({ topic, payload, at }, source, from, problem)],
    drill: false,
    from,
    alive: null,
    problem,
  });
  if (from === null) return unreadable("the topic is not <prefix>/<site>/<device>/readings or …/life");
  const value = parsed(payload);
  if (!isRecord(value)) return unreadable("the payload is not a JSON object in UTF-8");
  return from.about === "life"
    ? readLife(value, from, at, source, unreadable)
    : readReadings(value, from, source, unreadable);
}

type Unreadable = (problem: string) => PayloadRead;
type JsonRecord = Readonly<Record<string, unknown>>;

function parsed(payload: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(payload));
  } catch {
    return undefined;
  }
}

function isRecord(value: unknown): value is JsonRecord {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function strangeField(value: JsonRecord, known: readonly string[]): string | undefined {
  return Object.keys(value).find((field) => !known.includes(field));
}

function readReadings(value: JsonRecord, from: Topic, source: string, unreadable: Unreadable): PayloadRead {
  const { readings, drill = false } = value;
  const strange = strangeField(value, ["readings", "drill"]);
  if (strange !== undefined) return unreadable(`field ${JSON.stringify(strange.slice(0, 40))} is not known`);
  if (!Array.isArray(readings) || readings.length === 0)
    return unreadable("readings is not a list with entries");
  if (readings.length > MOST_READINGS) return unreadable(`a message holds at most ${MOST_READINGS} readings`);
  if (typeof drill !== "boolean") return unreadable("drill is neither true nor false");
  const records = readings.map((one: unknown) => readingRecord(one, from, source));
  return { records, drill, from, alive: null, problem: null };
}

/** Site and device come from the topic, which the broker guards; a reading cannot speak for another one. */
function readingRecord(one: unknown, { site, device }: Topic, source: string): unknown {
  const fields = flat(isRecord(one) ? one : { reading: one });
  const { at, quality = "good", unit = unitOf(fields["kind"]), value = null, key = null, ...rest } = fields;
  const said = { value, ...rest, at: instant(at), quality, unit };
  // A field of the same name in the payload must not pass for the topic's.
  const claimed = ["site", "device", "source"].filter((name) => Object.hasOwn(rest, name));
  const strange = Object.fromEntries(claimed.map((name) => [`${name} in the payload`, rest[name]]));
  return { ...said, ...strange, site, device, source, key: keyOf([site, device, said, key]) };
}

/** Nothing in a reading has an inside. What does is no value of it: null, which no field takes for good. */
function flat(one: JsonRecord): JsonRecord {
  const fields = Object.entries(one).slice(0, MOST_FIELDS);
  return Object.fromEntries(
    fields.map(([name, value]) => [
      name.slice(0, KEPT_CHARACTERS),
      typeof value === "object" ? null : typeof value === "string" ? value.slice(0, KEPT_CHARACTERS) : value,
    ]),
  );
}

function instant(at: unknown): unknown {
  return typeof at === "string" && WITH_ZONE.test(at) ? Date.parse(at) : at;
}

/** Units that need not be said, since there is nothing to mistake. */
function unitOf(kind: unknown): unknown {
  switch (kind) {
    case "earth-fault-bit":
    case "residual-trip":
      return "bit";
    case "device-state":
      return "word";
    case "heartbeat":
      return "none";
    default:
      return undefined;
  }
}

/**
 * A device that is alive gives a heartbeat. One whose last will speaks has fallen silent: its heartbeat is on record as
 * stale, which passes for no sign of life.
 */
function readLife(
  value: JsonRecord,
  from: Topic,
  now: number,
  source: string,
  unreadable: Unreadable,
): PayloadRead {
  const { alive, at, session } = value;
  const strange = strangeField(value, ["alive", "at", "session"]);
  if (strange !== undefined) return unreadable(`field ${JSON.stringify(strange.slice(0, 40))} is not known`);
  if (typeof alive !== "boolean") return unreadable("alive is neither true nor false");
  // Kept by the broker, it would pass for a sign of life whenever a desk subscribes.
  if (alive && at === undefined) return unreadable("alive: true needs at, the instant at which it was said");
  const { site, device } = from;
  const named = typeof session === "string" || typeof session === "number" ? session : now;
  const record = {
    site,
    device,
    // A will is written when the device connects, so that only its arrival says when the silence began.
    at: alive ? instant(at) : now,
    kind: "heartbeat",
    value: alive ? true : null,
    unit: "none",
    quality: alive ? "good" : "stale",
    source,
    key: keyOf([site, device, "life", alive, named, alive ? at : null]),
  };
  return { records: [record], drill: false, from, alive, problem: null };
}

function unreadableRecord(arrival: Arrival, source: string, from: Topic | null, problem: string): unknown {
  const text = new TextDecoder().decode(arrival.payload.subarray(0, 4 * KEPT_CHARACTERS));
  const digest = createHash("sha256").update(arrival.payload).digest("hex");
  return {
    ...(from === null ? {} : { site: from.site, device: from.device }),
    source,
    key: keyOf([arrival.topic, digest]),
    at: arrival.at,
    problem,
    topic: arrival.topic.slice(0, KEPT_CHARACTERS),
    payload: text.slice(0, KEPT_CHARACTERS),
  };
}

/** The same observation delivered twice has the same key. */
function keyOf(parts: readonly unknown[]): string {
  return `mqtt:${createHash("sha256").update(JSON.stringify(parts)).digest("hex").slice(0, 40)}`;
}
