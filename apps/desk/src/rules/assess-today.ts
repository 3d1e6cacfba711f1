import { assessSite } from "@earthbell/engine";
import type { Clock } from "../clock.ts";
import type { WatchOptions } from "../watch/index.ts";
import type { RuleBook } from "./rule-book.ts";

/** Assesses a site for the day it is there now, by the rules of the desk: editions and proofs go by the date. */
export function assessToday(rules: RuleBook, clock: Clock): WatchOptions["assess"] {
  return (site) => {
    const zone = site.place.timezone ?? "UTC";
    const onDate = new Intl.DateTimeFormat("en-CA", { timeZone: zone }).format(clock.now());
    return assessSite(site, { packs: rules.packs(), onDate });
  };
}
