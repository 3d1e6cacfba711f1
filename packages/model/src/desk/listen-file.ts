import * as z from "zod";
import { LONGEST_LIST } from "../fields/entries.ts";
import { list } from "../fields/list-field.ts";
import {
  chosenBy,
  choice,
  count,
  id,
  map,
  named,
  number,
  patterned,
  text,
  yesNo,
} from "../fields/plain-fields.ts";
import { duration, host, port, secret, topic } from "./settings-fields.ts";

/** How the desk hears devices: brokers, gateways, and folders into which tables are laid. */

const tls = map({
  ca: text().exactOptional(),
  certificate: text().exactOptional(),
  key: text().exactOptional(),
});

export const broker = map({
  id: id(),
  url: patterned(
    /^mqtts?:\/\/[^\s@]+$/u,
    "an address that begins with mqtts:// or mqtt://, without a password",
  ),
  /** Absent: made once for the folder of the desk. */
  clientId: patterned(/^[\w.-]{1,60}$/u, "1 to 60 letters, digits, -, _ and .").exactOptional(),
  user: text().exactOptional(),
  password: secret.exactOptional(),
  /** A password may go over a connection that can be read on its way. */
  allowPlainPassword: yesNo().exactOptional(),
  tls: tls.exactOptional(),
  listen: yesNo().exactOptional(),
  share: patterned(/^[^+#/$\s]{1,60}$/u, "a name without /, +, #, $ and spaces").exactOptional(),
  prefix: topic().exactOptional(),
  connections: count(1, 16).exactOptional(),
  /** How long the broker keeps what comes while the desk is away. */
  sessionKept: duration("1 h", "90 d").exactOptional(),
});

const extraKind = () => choice("earth-fault-bit", "insulation", "residual-trip", "residual-current");

/** A point that the device's maker defines, read by data instead of by code; as `Extra` of the decoder has it. */
const extra = chosenBy(
  "is",
  ["event-bit", "register"],
  map({
    is: z.literal("event-bit"),
    model: count(1, 65_534),
    instance: count(1, 200).exactOptional(),
    point: text(30),
    bit: count(0, 30),
    kind: choice("earth-fault-bit", "residual-trip"),
    array: id().exactOptional(),
  }),
  map({
    is: z.literal("register"),
    address: count(0, 65_535),
    type: choice("uint16", "int16", "uint32", "int32", "float32"),
    lowFirst: yesNo().exactOptional(),
    multiplier: number(1e-9, 1e9).exactOptional(),
    bit: count(0, 31).exactOptional(),
    kind: extraKind(),
    unit: choice("ohm", "kiloohm", "megaohm", "ampere", "milliampere").exactOptional(),
    absent: list(number(-4_294_967_296, 4_294_967_296), 1, 20).exactOptional(),
    array: id().exactOptional(),
  }),
);

const portsTo = (what: string) => named(id(), `a map of port numbers and ${what}`).exactOptional();

const device = map({
  id: id(),
  unit: count(1, 247),
  site: id(),
  arrays: list(id(), 1, LONGEST_LIST).exactOptional(),
  ports: portsTo("arrays"),
  strings: portsTo("strings"),
  extras: list(extra, 0, 100).exactOptional(),
});

export const gateway = map({
  id: id(),
  host: host(),
  port: port().exactOptional(),
  pollEvery: duration("1 s", "24 h").exactOptional(),
  timeout: duration("0.1 s", "5 min").exactOptional(),
  rest: duration("0 s", "10 s").exactOptional(),
  devices: list(device, 1, 247),
});

/** A folder into which a logger or a person lays tables. */
export const drop = map({
  id: id(),
  folder: text(),
  /** Name of a saved mapping of columns, or of events. */
  mapping: id(),
  site: id(),
  device: id(),
  /** Of tables that have no column for it. */
  array: id().exactOptional(),
  /** A file counts as complete once it has not changed for this long. */
  settledAfter: duration("1 s", "1 h").exactOptional(),
  lookEvery: duration("1 s", "24 h").exactOptional(),
});
