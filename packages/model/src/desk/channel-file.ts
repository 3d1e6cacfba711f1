import { LONGEST_LIST } from "../fields/entries.ts";
import { list } from "../fields/list-field.ts";
import { choice, count, id, map, named, patterned, text, yesNo } from "../fields/plain-fields.ts";
import { duration, host, inner, port, secret, topic, webAddress } from "./settings-fields.ts";

/** How the desk reaches people and beacons. */

const mailAddress = () => patterned(/^[^\s@<>]+@[^\s@<>]+$/u, "one e-mail address, without a name");

/** Longest wait for one attempt to hand a message over. */
const timeout = () => duration("1 s", "5 min").exactOptional();

export const email = map({
  host: host(),
  port: port(),
  security: choice("tls", "starttls", "starttls-if-offered", "none"),
  user: text().exactOptional(),
  password: secret.exactOptional(),
  from: mailAddress(),
  fromName: text(100).exactOptional(),
  replyTo: mailAddress().exactOptional(),
  /** Name that the desk gives itself in EHLO. */
  ownName: host().exactOptional(),
  /** Name in the server's certificate, where it is not the host. */
  serverName: host().exactOptional(),
  connections: count(1, 20).exactOptional(),
  timeout: timeout(),
  ca: text().exactOptional(),
});

export const webhook = map({
  keys: list(map({ id: patterned(/^[\w-]{1,64}$/u, "letters, digits, - and _"), secret }), 1, 2),
  allowInner: inner(),
  allowPlainHttp: yesNo().exactOptional(),
  timeout: timeout(),
  ca: text().exactOptional(),
});

/** Texts may hold {to}, {text} and {key}; headers from secrets are sent as they are. */
export const sms = map({
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
  timeout: timeout(),
  ca: text().exactOptional(),
});

/** A lamp, relay or display that follows one retained topic. */
export const beacon = map({
  id: id(),
  /** Id of one of `brokers`. */
  broker: id(),
  topic: topic(),
  /** Absent: a record that says what is raised. */
  payloads: map({
    on: text(200),
    off: text(200),
    /** Absent: a drill is shown as a fault is, by `on`. */
    drill: text(200).exactOptional(),
  }).exactOptional(),
  /** Absent: every site. Without paths: every array of the site. */
  shows: list(
    map({ site: id(), paths: list(id(), 1, 100).exactOptional() }),
    1,
    LONGEST_LIST,
  ).exactOptional(),
});
