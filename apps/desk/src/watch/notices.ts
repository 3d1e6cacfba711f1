import type { NoticeOccasion, SiteWords, UncleanStopOccasion } from "../tell/words/occasion.ts";
import { type Draft, noteHappening } from "./draft.ts";
import { siteWords, type Telling } from "./occasions.ts";
import type { SiteDraft } from "./site-room.ts";
import { putInOutbox } from "./write-messages.ts";

/** Something about the desk itself; told once to each of those who keep it. */
export type Notice =
  | Pick<NoticeOccasion, "about" | "notice" | "text" | "at">
  | Pick<UncleanStopOccasion, "about" | "lastAtWorkAt" | "startedAt">;

const DESK: SiteWords = { id: "desk", name: "this desk", zone: "UTC" };

/**
 * Tells those who keep the desk.
 *
 * @param cause  what it is about; the same cause is told once
 */
export async function tellKeepers(
  draft: Draft,
  telling: Telling,
  notice: Notice,
  cause: string,
  site: SiteDraft | null = null,
): Promise<void> {
  const text = notice.about === "notice" ? notice.text : "The desk was not stopped in order.";
  const name = notice.about === "notice" ? notice.notice : notice.about;
  noteHappening(draft, { kind: "watch", site: site?.id ?? null, subject: cause, by: null, text });
  const words = site === null ? DESK : siteWords(site.filed.site);
  for (const { person, channel, address } of telling.keepers) {
    const written = telling.words({
      ...notice,
      channel,
      person: { id: person, role: "service" },
      site: words,
      limits: draft.limits,
    });
    const envelope = {
      key: JSON.stringify(["notice", name, cause, channel, address]),
      ...{ channel, address, person },
      site: words.id,
      matter: cause,
      kind: "first",
      sequence: 1,
      ...written,
      writtenAt: draft.now,
    } as const;
    await putInOutbox(draft, envelope, text);
  }
}
