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
import { quantityFields } from "../fields/quantity-field.ts";
import { weeklyHours } from "../site/site-file.ts";

/** The format `earthbell.desk/1`: what a desk needs to know that no site file says. Secrets are named, never written. */
const { quantity } = quantityFields("refuse");

export const DESK_FORMAT = "earthbell.desk/1";

const host = () => patterned(/^[\w.:-]{1,253}$/u, "a host name or an address without a port");
const port = () => count(1, 65_535);
const webAddress = () => patterned(/^https?:\/\/\S+$/u, "a web address that begins with https:// or http://");

/** Where a secret is read from when the desk starts: one of the two. */
const secret = map({
  env: patterned(/^[A-Za-z_]\w*$/u, "the name of an environment variable").exactOptional(),
  file: text().exactOptional(),
});

const tls = map({
  ca: text().exactOptional(),
  certificate: text().exactOptional(),
  key: text().exactOptional(),
});

const email = map({
  host: host(),
  port: port(),
  security: choice("tls", "starttls", "starttls-if-offered", "none"),
  user: text().exactOptional(),
  password: secret.exactOptional(),
  from: patterned(/^[^\s@<>]+@[^\s@<>]+$/u, "one e-mail address, without a name"),
  fromName: text(100).exactOptional(),
  replyTo: patterned(/^[^\s@<>]+@[^\s@<>]+$/u, "one e-mail address, without a name").exactOptional(),
  ca: text().exactOptional(),
});

const inner = () => list(text(60), 0, 100).exactOptional();

const webhook = map({
  keys: list(map({ id: patterned(/^[\w-]{1,64}$/u, "letters, digits, - and _"), secret }), 1, 2),
  allowInner: inner(),
  allowPlainHttp: yesNo().exactOptional(),
  ca: text().exactOptional(),
});

/** Texts may hold {to}, {text} and {key}; headers from secrets are sent as they are. */
const sms = map({
  method: choice("POST", "PUT", "GET"),
  url: webAddress(),
  headers: named(text(2000), "a map of header names and values").exactOptional(),
  secretHeaders: named(secret, "a map of header names and secrets").exactOptional(),
  json: text(4000).exactOptional(),
  form: named(text(2000), "a map of field names and values").exactOptional(),
  replyHolds: text().exactOptional(),
  replyRefusesWith: text().exactOptional(),
  allowInner: inner(),
  allowPlainHttp: yesNo().exactOptional(),
  ca: text().exactOptional(),
});

const broker = map({
  id: id(),
  url: patterned(/^(?:mqtts?|wss?):\/\/\S+$/u, "an address that begins with mqtts:// or mqtt://"),
  user: text().exactOptional(),
  password: secret.exactOptional(),
  tls: tls.exactOptional(),
  listen: yesNo().exactOptional(),
  share: id().exactOptional(),
  prefix: text(200).exactOptional(),
  tell: yesNo().exactOptional(),
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

const pollEvery = () => quantity("duration", { from: "1 s", to: "24 h" });

const gateway = map({
  id: id(),
  host: host(),
  port: port().exactOptional(),
  pollEvery: pollEvery().exactOptional(),
  timeout: quantity("duration", { from: "0.1 s", to: "5 min" }).exactOptional(),
  rest: quantity("duration", { from: "0 s", to: "10 s" }).exactOptional(),
  devices: list(device, 1, 247),
});

const rung = map({
  after: quantity("duration", { from: "1 min", to: "30 d" }),
  to: list(id(), 1, 1000),
  hours: weeklyHours().exactOptional(),
});

export const deskFile = map({
  format: z.literal(DESK_FORMAT, { error: DESK_FORMAT }),
  desk: map({
    name: text(100),
    publicUrl: webAddress().exactOptional(),
    listen: map({ host: host().exactOptional(), port: port().exactOptional() }).exactOptional(),
    behindProxy: yesNo().exactOptional(),
  }),
  database: chosenBy(
    "kind",
    ["sqlite", "postgresql"],
    map({ kind: z.literal("sqlite"), file: text().exactOptional() }),
    map({ kind: z.literal("postgresql"), url: secret }),
  ).exactOptional(),
  keepers: list(
    map({
      name: text(100),
      email: patterned(/^[^\s@]+@[^\s@]+$/u, "an e-mail address").exactOptional(),
      phone: text(30).exactOptional(),
      webhook: webAddress().exactOptional(),
    }),
    0,
    100,
  ).exactOptional(),
  /** Rehearsal: messages of these kinds are written into a folder and go nowhere. */
  tray: map({ folder: text(), instead: list(choice("email", "webhook", "sms"), 1, 3) }).exactOptional(),
  email: email.exactOptional(),
  webhook: webhook.exactOptional(),
  sms: sms.exactOptional(),
  brokers: list(broker, 0, 20).exactOptional(),
  gateways: list(gateway, 0, LONGEST_LIST).exactOptional(),
  ladders: list(map({ site: id(), path: id(), rungs: list(rung, 1, 20) }), 0, LONGEST_LIST).exactOptional(),
  drills: map({ everyMonths: count(1, 24).exactOptional() }).exactOptional(),
  deadMan: map({
    url: webAddress().exactOptional(),
    file: text().exactOptional(),
    every: quantity("duration", { from: "10 s", to: "24 h" }).exactOptional(),
  }).exactOptional(),
});
