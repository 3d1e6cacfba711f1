import { duplicateIds, entriesOf, entryOf, textsOf, type Entry } from "../fields/entries.ts";
import type { FieldFault } from "../fields/field-fault.ts";
import { deviceFaults } from "../sunspec/device-faults.ts";
import { channelFaults, sharedTogether } from "./channel-consistency.ts";

/** What the schema cannot see: ids, what two entries cannot share, and secrets with no source or two. */
export function* deskConsistency(data: Readonly<Record<string, unknown>>): Generator<FieldFault> {
  const root: Entry = { path: [], fields: data };
  const [gateways, drops] = [entriesOf(root, "gateways"), entriesOf(root, "drops")];
  yield* channelFaults(root);
  yield* duplicateIds(gateways, "Gateway");
  yield* duplicateIds(drops, "Folder");
  yield* sharedTogether(drops, ["folder"], "DESK_FOLDER_SHARED", "folder", {
    allowed: "a folder of its own",
    message: "Another entry has this folder: a file would be read in two ways.",
  });
  for (const gateway of gateways) {
    const devices = entriesOf(gateway, "devices");
    yield* unitsShared(devices);
    for (const device of devices) yield* deviceFaults(device);
  }
  yield* devicesShared(gateways);
  yield* secretFaults(entryOf(root, "email"), "password");
  const webhook = entryOf(root, "webhook");
  for (const key of webhook ? entriesOf(webhook, "keys") : []) yield* secretFaults(key, "secret");
  yield* secretFaults(entryOf(root, "database"), "url");
  for (const broker of entriesOf(root, "brokers")) yield* secretFaults(broker, "password");
}

function* unitsShared(devices: readonly Entry[]): Generator<FieldFault> {
  const seen = new Set<number>();
  for (const { path, fields } of devices) {
    const { unit } = fields;
    if (typeof unit !== "number") continue;
    if (seen.has(unit))
      yield {
        code: "DESK_UNIT_SHARED",
        path: [...path, "unit"],
        part: "value",
        value: unit,
        allowed: "a unit id of its own behind this gateway",
        message: `Unit ${String(unit)} is already a device of this gateway.`,
      };
    seen.add(unit);
  }
}

/** A device is known by its site and id in every reading, so the pair is unique over all gateways. */
function* devicesShared(gateways: readonly Entry[]): Generator<FieldFault> {
  const bySite = new Map<unknown, Entry[]>();
  for (const device of gateways.flatMap((gateway) => entriesOf(gateway, "devices")))
    bySite.set(device.fields["site"], [...(bySite.get(device.fields["site"]) ?? []), device]);
  for (const devices of bySite.values()) yield* duplicateIds(devices, "Device");
}

function* secretFaults(parent: Entry | undefined, field: string): Generator<FieldFault> {
  const secret = parent && entryOf(parent, field);
  if (!secret) return;
  const sources = ["env", "file"].filter((source) => textsOf(secret, source).length > 0);
  if (sources.length === 1) return;
  yield {
    code: "DESK_SECRET_SOURCE",
    path: secret.path,
    part: "value",
    value: secret.fields,
    allowed: "env with the name of a variable, or file with the path of a file, one of the two",
    message: `${field} names ${sources.length === 0 ? "no place" : "two places"} to read the secret from.`,
  };
}
