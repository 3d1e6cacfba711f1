import { type ActiveSpans, activeSpans } from "./active-spans.ts";
import { type Watcher, watcherOf } from "./attention.ts";
import type { NoticeModel, NoticeReader } from "./notice-model.ts";
import { fixedOffset, localMidnight, type OffsetPeriod, offsetPeriods } from "./wall-clock.ts";

export const dayNumberOf = (date: string): number => Math.floor(Date.parse(`${date}T00:00:00Z`) / 86_400_000);

/** The offsets of a zone over the time followed; of an absent zone the site's own. */
export type PeriodsIn = (timezone: string | undefined) => readonly OffsetPeriod[];

/** Offsets by zone, each looked up once; the longitude's mean solar time where a zone is absent or unknown. */
export function periodsBetween(from: number, to: number, longitudeDeg: number | undefined): PeriodsIn {
  const zones = new Map<string, readonly OffsetPeriod[]>();
  return (timezone) => {
    const key = timezone ?? "";
    const known = timezone === undefined ? null : offsetPeriods(timezone, from, to);
    const periods = zones.get(key) ?? known ?? fixedOffset(Math.round(4 * (longitudeDeg ?? 0)), from, to);
    zones.set(key, periods);
    return periods;
  };
}

/** The watchers of several models, each once, and for each model where its readers and site channels are among them. */
export interface Watch {
  readonly watchers: readonly Watcher[];
  /** One a model: index of each watcher by `reader id` or `channel id`. */
  readonly indexOf: readonly ReadonlyMap<string, number>[];
}

type Hours = Pick<NoticeReader, "hours" | "away"> & { readonly timezone: string | undefined };

/** Lists watchers; one that keeps the hours and the pace of another is that other. */
class WatchList {
  readonly watchers: Watcher[] = [];
  private readonly periodsIn: PeriodsIn;
  private readonly spansOf = new Map<string, ActiveSpans>();
  private readonly known = new Map<string, number>();

  constructor(periodsIn: PeriodsIn) {
    this.periodsIn = periodsIn;
  }

  indexFor(hours: Hours, perMinute: number): number {
    const active = JSON.stringify([hours.timezone, hours.hours, hours.away]);
    const key = `${perMinute} ${active}`;
    const already = this.known.get(key);
    if (already !== undefined) return already;
    const spans = this.spansOf.get(active) ?? this.spans(hours);
    this.spansOf.set(active, spans);
    const index = this.watchers.push(watcherOf(spans, perMinute)) - 1;
    this.known.set(key, index);
    return index;
  }

  private spans({ hours, away, timezone }: Hours): ActiveSpans {
    const periods = this.periodsIn(timezone);
    const gone = away.map(({ from, to }) => ({
      start: localMidnight(dayNumberOf(from), periods),
      end: localMidnight(dayNumberOf(to) + 1, periods),
    }));
    return activeSpans(hours, periods, gone);
  }
}

function indicesOf({ timezone, readers, channels }: NoticeModel, list: WatchList): Map<string, number> {
  const indexOf = new Map<string, number>();
  for (const reader of readers) {
    const hours = { ...reader, timezone: reader.timezone ?? timezone };
    indexOf.set(`reader ${reader.id}`, list.indexFor(hours, reader.looksPerMinute));
  }
  for (const channel of channels) {
    if (channel.signal === "message") continue;
    const hours = { hours: channel.hours, away: [], timezone };
    indexOf.set(`channel ${channel.id}`, list.indexFor(hours, channel.noticesPerMinute));
  }
  return indexOf;
}

export function watchOf(models: readonly NoticeModel[], periodsIn: PeriodsIn): Watch {
  const list = new WatchList(periodsIn);
  const indexOf = models.map((model) => indicesOf(model, list));
  return { watchers: list.watchers, indexOf };
}
