import type { Site } from "@earthbell/engine";
import { type PlannedMessage, SIGNS } from "@earthbell/model";
import type { Occasion, SiteWords, Words } from "../tell/words/occasion.ts";
import type { Draft } from "./draft.ts";
import type { Pending } from "./pending.ts";
import type { WatchOptions } from "./watch.ts";

/** What it takes to write messages. */
export type Telling = Pick<
  WatchOptions,
  "channels" | "acknowledgeAt" | "linkHoldsMs" | "keepers" | "beacons"
> & {
  readonly words: Words;
};

export function siteWords(site: Site): SiteWords {
  const service = site.people.find(({ role, address }) => role === "service" && address?.phone !== undefined);
  return {
    id: site.id,
    ...(site.name === undefined ? {} : { name: site.name }),
    zone: site.place.timezone ?? "UTC",
    ...(service === undefined ? {} : { contact: `${service.id}, ${service.address!.phone!}` }),
  };
}

function addressed({ way, person, site }: Pending, { limits }: Draft, url: string | undefined) {
  return {
    channel: way.channel,
    person: { id: person.id, ...(person.role === undefined ? {} : { role: person.role }) },
    site: siteWords(site.filed.site),
    ...(url === undefined ? {} : { acknowledgeUrl: url }),
    limits,
  };
}

/** What the words of one message may speak of. */
export function occasionOf(one: Pending, draft: Draft, url: string | undefined): Occasion {
  const { matter, message, path, reason, site } = one;
  const common = { ...addressed(one, draft, url), path, sequence: message.sequence };
  if (matter.kind === "drill" || message.kind === "drill")
    return { ...common, about: "drill", drill: (matter as Extract<typeof matter, { kind: "drill" }>).drill };
  const saw = matter.alarms.flatMap(({ id }) => site.saw.get(id) ?? []);
  return {
    ...common,
    about: "alarms",
    matter,
    kind: message.kind,
    reason,
    now: draft.now,
    ...(saw.length === 0 ? {} : { saw }),
  };
}

export function stormOccasionOf(
  planned: PlannedMessage,
  covered: readonly Pending[],
  draft: Draft,
  url: string | undefined,
): Occasion {
  const faults = covered.some(
    ({ matter }) => matter.kind === "alarms" && matter.alarms.some(({ sign }) => SIGNS[sign].opensCase),
  );
  return { ...addressed(covered[0]!, draft, url), about: "storm", planned, faults };
}
