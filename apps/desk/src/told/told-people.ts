import { fitsFolded, folded } from "@earthbell/model";
import type { Person } from "@earthbell/engine";
import { eachInTurn } from "../others-first.ts";
import type { ChannelKind } from "../tell/channel.ts";
import type { ToldEntry } from "./told-entry.ts";

export type ToldChannel = Exclude<ChannelKind, "mqtt">;

export interface ToldWay {
  readonly channel: ToldChannel;
  /** As the site file spells it. */
  readonly address: string;
}

/** One person over all sites: entries of site files that share an address. */
export interface ToldPerson {
  readonly entries: readonly ToldEntry[];
  /** Every address with every spelling. */
  readonly ways: readonly ToldWay[];
}

export const FIELD_OF = { email: "email", sms: "phone", webhook: "webhook" } as const;
/** Entries between which others go first. */
const AT_ONCE = 500;
const CHANNELS = Object.keys(FIELD_OF) as readonly ToldChannel[];

/** Every address of a person, whether or not this desk has a channel for it. */
export function addressesOf({ address = {} }: Person): readonly ToldWay[] {
  return CHANNELS.flatMap((channel) => {
    const to = address[FIELD_OF[channel]];
    return to === undefined ? [] : [{ channel, address: to }];
  });
}

/** Equal for addresses that reach the same mailbox, telephone or receiver. */
export function sameWay({ channel, address }: ToldWay): string {
  switch (channel) {
    case "email":
      return `email ${address.trim().toLowerCase()}`;
    case "sms":
      return `sms ${address.replace(/[^\d+]/gu, "")}`;
    case "webhook":
      return `webhook ${address.trim()}`;
  }
}

/**
 * Puts entries of site files together that are one person: those that share an address, also by way of a third. Ids do not count:
 * every site has its own `owner`. Somebody without an address stands alone.
 */
export async function togetherByAddress(entries: readonly ToldEntry[]): Promise<readonly ToldPerson[]> {
  const leads = entries.map((_, at) => at);
  const leadOf = (at: number): number => {
    let lead = at;
    while (leads[lead] !== lead) lead = leads[lead] = leads[leads[lead]!]!;
    return lead;
  };
  const firstWith = new Map<string, number>();
  await eachInTurn(entries.entries(), AT_ONCE, ([at, { person }]) => {
    for (const way of addressesOf(person)) {
      const name = sameWay(way);
      const first = firstWith.get(name);
      if (first === undefined) firstWith.set(name, at);
      else {
        const [one, other] = [leadOf(first), leadOf(at)];
        leads[Math.max(one, other)] = Math.min(one, other);
      }
    }
  });
  const groups = new Map<number, ToldEntry[]>();
  await eachInTurn(entries.entries(), AT_ONCE, ([at, entry]) => {
    const lead = leadOf(at);
    const own = groups.get(lead);
    if (own === undefined) groups.set(lead, [entry]);
    else own.push(entry);
  });
  const people: ToldPerson[] = [];
  await eachInTurn(groups.values(), AT_ONCE, (own) => {
    people.push({ entries: own, ways: waysOf(own) });
  });
  return people;
}

function waysOf(entries: readonly ToldEntry[]): readonly ToldWay[] {
  const ways = entries.flatMap(({ person }) => addressesOf(person));
  return [...new Map(ways.map((way) => [`${way.channel} ${way.address}`, way])).values()];
}

/** People of whom everything that was typed stands in an address, an id, a role or a site. */
export async function found(people: readonly ToldPerson[], typed: string): Promise<readonly ToldPerson[]> {
  if (typed.trim() === "") return people;
  const fits = fitsFolded(typed);
  const matching: ToldPerson[] = [];
  await eachInTurn(people, AT_ONCE, (person) => {
    if (fits(textOf(person))) matching.push(person);
  });
  return matching;
}

const texts = new WeakMap<ToldPerson, string>();

/** All by which somebody is found, folded once: the same people are asked for with every letter that is typed. */
function textOf(one: ToldPerson): string {
  const known = texts.get(one);
  if (known !== undefined) return known;
  const { entries, ways } = one;
  const words = entries.flatMap(({ site, siteName, person: { id, role = "" } }) => [
    site,
    siteName ?? "",
    id,
    role,
  ]);
  const text = folded([...ways.map(({ address }) => address), ...words].join("\n"));
  texts.set(one, text);
  return text;
}
