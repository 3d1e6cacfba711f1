import { SIGNS } from "@earthbell/model";
import type { Draft } from "./draft.ts";
import { tellKeepers } from "./notices.ts";
import type { Telling } from "./occasions.ts";
import type { SiteRound } from "./rounds.ts";
import type { SiteDraft } from "./site-room.ts";

/** A fault of an array from which no message path leads to anybody must not stay with the desk: its keepers are told. */
export async function tellOfNobody(
  draft: Draft,
  sites: readonly SiteDraft[],
  rounds: readonly SiteRound[],
  telling: Telling,
): Promise<void> {
  const reached = new Set(
    rounds.filter(({ round }) => round.decisions.length > 0).map(({ matter }) => matter.id),
  );
  for (const site of sites) {
    for (const one of site.cases.values()) {
      if (one.closed !== null || reached.has(one.id)) continue;
      const signs = one.alarms
        .flatMap((id) => site.alarms.get(id) ?? [])
        .map(({ sign }) => SIGNS[sign].title);
      const text = `Case ${one.id} of array ${one.array} at ${site.id} is open (${signs.join(", ")}), and no message path leads from that array to anybody. Put people on a path in the site file.`;
      const notice = { about: "notice", notice: "nobody-to-tell", text, at: draft.now } as const;
      if (await isNew(draft, one.id)) await tellKeepers(draft, telling, notice, one.id, site);
    }
  }
}

async function isNew({ tx }: Draft, cause: string): Promise<boolean> {
  const told = await tx
    .selectFrom("journal")
    .select("sequence")
    .where("subject", "=", cause)
    .where("kind", "=", "watch")
    .executeTakeFirst();
  return told === undefined;
}
