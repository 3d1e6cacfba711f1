import type { DeskSettings } from "@earthbell/model";
import type { Clock } from "../clock.ts";
import { appendJournal, type DeskStore } from "../store/index.ts";
import type { ToldEntry } from "./told-entry.ts";
import { addressesOf, FIELD_OF, type ToldChannel } from "./told-people.ts";

interface ForgetParts {
  readonly store: DeskStore;
  readonly clock: Clock;
  readonly setUp: { readonly settings: Pick<DeskSettings, "keepers"> };
}

/** An address that was replaced, and that nobody has any more, is no longer kept as one that reaches nobody. */
export async function forgetWay(
  { store, clock, setUp }: ForgetParts,
  entries: readonly ToldEntry[],
  { channel, from }: { readonly channel: ToldChannel; readonly from: string },
  by: string,
): Promise<void> {
  const keepers = setUp.settings.keepers ?? [];
  const named =
    keepers.some((keeper) => keeper[FIELD_OF[channel]] === from) ||
    entries.some(({ person }) =>
      addressesOf(person).some((way) => way.channel === channel && way.address === from),
    );
  if (named) return;
  await store.amend(async (tx) => {
    const gone = await tx
      .deleteFrom("broken_way")
      .where("channel", "=", channel)
      .where("address", "=", from)
      .returning("address")
      .execute();
    const text = `${from} stands in no site file any more, and is no longer kept as broken.`;
    const subject = `${channel} ${from}`;
    if (gone.length > 0)
      await appendJournal(tx, [{ at: clock.now(), kind: "person", site: null, subject, by, text }]);
  });
}
