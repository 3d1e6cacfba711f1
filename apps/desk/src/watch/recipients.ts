import type { Person } from "@earthbell/engine";
import { type Matter, type TellPath, tellPathOf, type TellPerson, tellPersonOf } from "@earthbell/model";
import type { BrokenWayTable } from "../store/index.ts";
import type { ChannelKind } from "../tell/channel.ts";
import type { SiteDraft } from "./site-room.ts";
import type { Way } from "./watch.ts";

const ADDRESS_OF = { email: "email", sms: "phone", webhook: "webhook" } as const;

/** The ways by which a person can be told: every channel that is set up and for which there is an address. */
export function waysOf({ address = {} }: Person, channels: readonly ChannelKind[]): readonly Way[] {
  return channels.flatMap((channel): Way[] => {
    if (channel === "mqtt") return [];
    const to = address[ADDRESS_OF[channel]];
    return to === undefined ? [] : [{ channel, address: to }];
  });
}

/** Ways that are known not to reach anybody, by `wayName`. */
export type BrokenWays = ReadonlyMap<string, BrokenWayTable>;

export function wayName({
  channel,
  address,
}: {
  readonly channel: string;
  readonly address: string;
}): string {
  return `${channel} ${address}`;
}

/** The people of a site as the watch tells them: somebody whose every way is broken cannot be reached. */
export function tellPeople(
  { filed }: SiteDraft,
  channels: readonly ChannelKind[],
  broken: BrokenWays,
): readonly TellPerson[] {
  const zone = filed.site.place.timezone ?? "UTC";
  return filed.site.people.map((person) => {
    const told = tellPersonOf(person, zone);
    const ways = waysOf(person, channels);
    if (ways.length === 0) {
      const reason = "no address is given for a channel that this desk has";
      return { ...told, broken: { sinceAt: filed.putAt, reason } };
    }
    const found = ways.flatMap((way) => broken.get(wayName(way)) ?? []);
    if (found.length < ways.length) return told;
    const last = found.toSorted((one, other) => other.since_at - one.since_at)[0]!;
    return { ...told, broken: { sinceAt: last.since_at, reason: last.reason } };
  });
}

/** The message paths of a site with the desk's ladders. */
export function tellPaths({ id, filed, ladders }: SiteDraft): readonly TellPath[] {
  return filed.site.paths.flatMap((path): TellPath[] => {
    if (path.signal !== "message") return [];
    const rungs = ladders.get(path.id)?.rungs ?? [];
    return [{ ...tellPathOf(path, id), ...(rungs.length === 0 ? {} : { ladder: rungs }) }];
  });
}

/** The paths by which a matter is told: those of its array; those of a silent path's arrays; the drill's own. */
export function pathsOfMatter(site: SiteDraft, matter: Matter): readonly TellPath[] {
  const paths = tellPaths(site);
  if (matter.kind === "drill") return paths.filter(({ id }) => id === matter.drill.path);
  const filed = site.filed.site.paths;
  const arrays = new Set(
    matter.alarms.flatMap(({ subject }) =>
      subject.kind === "array"
        ? [subject.array]
        : (filed.find(({ id }) => id === subject.path)?.arrays ?? []),
    ),
  );
  const serving = filed.filter((path) => path.arrays.some((array) => arrays.has(array)));
  const ids = new Set(serving.map(({ id }) => id));
  const own = paths.filter(({ id }) => ids.has(id));
  // An array that is no longer in the file still has its fault: then everybody of the site is told.
  return own.length === 0 && serving.length === 0 ? paths : own;
}
