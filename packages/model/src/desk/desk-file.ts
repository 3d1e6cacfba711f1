import * as z from "zod";
import { LONGEST_LIST } from "../fields/entries.ts";
import { list } from "../fields/list-field.ts";
import { chosenBy, choice, count, id, map, patterned, text, yesNo } from "../fields/plain-fields.ts";
import { weeklyHours } from "../site/site-file.ts";
import { beacon, email, sms, webhook } from "./channel-file.ts";
import { limits } from "./limit-fields.ts";
import { broker, drop, gateway } from "./listen-file.ts";
import { duration, host, port, secret, webAddress } from "./settings-fields.ts";

/** The format `earthbell.desk/1`: what a desk needs to know that no site file says. Secrets are named, never written. */
export const DESK_FORMAT = "earthbell.desk/1";

const desk = map({
  name: text(100),
  publicUrl: webAddress().exactOptional(),
  listen: map({ host: host().exactOptional(), port: port().exactOptional() }).exactOptional(),
  behindProxy: yesNo().exactOptional(),
  /** Requests that one sender may make in a minute. */
  requestsPerMinute: count(10, 100_000).exactOptional(),
  /** How long a link to acknowledge works. */
  linksHold: duration("1 h", "90 d").exactOptional(),
  /** How long a browser stays signed in: unused, and in any case. */
  signedIn: map({
    unused: duration("10 min", "90 d").exactOptional(),
    longest: duration("1 h", "365 d").exactOptional(),
  }).exactOptional(),
  /** Messages that one way of telling hands over at a time. */
  messagesAtOnce: count(1, 50).exactOptional(),
});

const rung = map({
  after: duration("1 min", "30 d"),
  to: list(id(), 1, 1000),
  hours: weeklyHours().exactOptional(),
});

export const deskFile = map({
  format: z.literal(DESK_FORMAT, { error: DESK_FORMAT }),
  desk,
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
  tray: map({
    folder: text(),
    instead: list(choice("email", "webhook", "sms", "mqtt"), 1, 4),
  }).exactOptional(),
  email: email.exactOptional(),
  webhook: webhook.exactOptional(),
  sms: sms.exactOptional(),
  brokers: list(broker, 0, 20).exactOptional(),
  beacons: list(beacon, 0, 1000).exactOptional(),
  gateways: list(gateway, 0, LONGEST_LIST).exactOptional(),
  drops: list(drop, 0, 1000).exactOptional(),
  ladders: list(map({ site: id(), path: id(), rungs: list(rung, 1, 20) }), 0, LONGEST_LIST).exactOptional(),
  limits: limits.exactOptional(),
  drills: map({ everyMonths: count(1, 24).exactOptional() }).exactOptional(),
  deadMan: map({
    url: webAddress().exactOptional(),
    file: text().exactOptional(),
    every: duration("10 s", "24 h").exactOptional(),
  }).exactOptional(),
});
