import {
  duplicateIds,
  entriesOf,
  type Entry,
  entryOf,
  idsOf,
  textsOf,
  unknownReferences,
} from "../fields/entries.ts";
import type { FieldFault } from "../fields/field-fault.ts";

/** What the schema cannot see of brokers, beacons, logins and templates. */
export function* channelFaults(root: Entry): Generator<FieldFault> {
  const [brokers, beacons] = [entriesOf(root, "brokers"), entriesOf(root, "beacons")];
  yield* duplicateIds(brokers, "Broker");
  yield* duplicateIds(beacons, "Beacon");
  for (const beacon of beacons) yield* unknownReferences(textsOf(beacon, "broker"), idsOf(brokers), "broker");
  yield* sharedTogether(beacons, ["broker", "topic"], "DESK_TOPIC_SHARED", "topic", {
    allowed: "a topic of its own",
    message: "Another beacon has this topic: the state of one would put out the other.",
  });
  for (const beacon of beacons) yield* payloadFaults(beacon);
  for (const broker of brokers) yield* brokerFaults(broker);
  const email = entryOf(root, "email");
  if (email !== undefined) yield* mailFaults(email);
  yield* templateFaults(entryOf(root, "sms"));
}

/** Entries that have the same values in these fields; the later one is at fault. */
export function* sharedTogether(
  entries: readonly Entry[],
  fields: readonly string[],
  code: "DESK_TOPIC_SHARED" | "DESK_FOLDER_SHARED",
  at: string,
  words: { readonly allowed: string; readonly message: string },
): Generator<FieldFault> {
  const seen = new Set<string>();
  for (const entry of entries) {
    const value = entry.fields[at];
    if (typeof value !== "string") continue;
    const key = JSON.stringify(fields.map((field) => entry.fields[field]));
    if (seen.has(key)) yield { code, path: [...entry.path, at], part: "value", value, ...words };
    seen.add(key);
  }
}

/** A beacon that is told the same for lit and for out never shows a fault, or a drill never lights it. */
function* payloadFaults(beacon: Entry): Generator<FieldFault> {
  const payloads = entryOf(beacon, "payloads");
  const off = payloads?.fields["off"];
  if (payloads === undefined || typeof off !== "string") return;
  for (const field of ["on", "drill"]) {
    if (payloads.fields[field] !== off) continue;
    yield {
      code: "DESK_PAYLOADS_ALIKE",
      path: [...payloads.path, field],
      part: "value",
      value: off,
      allowed: "a text that differs from off",
      message: "Lit could not be told from out.",
    };
  }
}

const NEAR = /^mqtt:\/\/(?:localhost|127\.0\.0\.1|\[::1\])(?::\d+)?\/?$/u;

function* brokerFaults(broker: Entry): Generator<FieldFault> {
  const { connections, share, url, password, allowPlainPassword } = broker.fields;
  yield* pairFaults(broker, "user", "password");
  const tls = entryOf(broker, "tls");
  if (tls !== undefined) yield* pairFaults(tls, "certificate", "key");
  if (typeof connections === "number" && connections > 1 && share === undefined)
    yield {
      code: "DESK_SHARE_MISSING",
      path: [...broker.path, "connections"],
      part: "value",
      value: connections,
      allowed: "1, or a share beside it",
      message: "Without a share each connection would get every message.",
    };
  const plain = typeof url === "string" && url.startsWith("mqtt://") && !NEAR.test(url);
  if (plain && password !== undefined && allowPlainPassword !== true)
    yield exposed(broker, "url", url, "an address that begins with mqtts://, or allowPlainPassword: true");
}

function* mailFaults(email: Entry): Generator<FieldFault> {
  const { security, password } = email.fields;
  yield* pairFaults(email, "user", "password");
  if (password !== undefined && (security === "none" || security === "starttls-if-offered"))
    yield exposed(email, "security", security, "tls or starttls, or no password");
}

function exposed(entry: Entry, field: string, value: string, allowed: string): FieldFault {
  const message = "The password could be read on its way.";
  return {
    code: "DESK_PASSWORD_EXPOSED",
    path: [...entry.path, field],
    part: "value",
    value,
    allowed,
    message,
  };
}

/** Two fields that mean something only together. */
function* pairFaults(entry: Entry, one: string, other: string): Generator<FieldFault> {
  for (const [there, missing] of [
    [one, other],
    [other, one],
  ] as const) {
    const value = entry.fields[there];
    if (value === undefined || entry.fields[missing] !== undefined) continue;
    yield {
      code: "DESK_PAIR_INCOMPLETE",
      path: [...entry.path, there],
      part: "value",
      value,
      allowed: `${there} together with ${missing}, or neither`,
      message: `${there} is given, and ${missing} is not.`,
    };
  }
}

function* templateFaults(sms: Entry | undefined): Generator<FieldFault> {
  const json = sms?.fields["json"];
  if (sms === undefined || typeof json !== "string") return;
  const fault = {
    code: "DESK_TEMPLATE_UNREADABLE",
    path: [...sms.path, "json"],
    part: "value",
    value: json,
  } as const;
  if (sms.fields["form"] !== undefined)
    yield { ...fault, allowed: "json or form, one of the two", message: "A body is JSON or a form." };
  else if (!isJson(json))
    yield { ...fault, allowed: "a JSON text", message: "The template of the body is no JSON." };
}

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}
