import { dailyHours } from "./assumptions.ts";
import type { NoticeChannel, NoticeModel } from "./notice-model.ts";
import { type NoticeOptions, timesToNotice } from "./time-to-notice.ts";

/** What holds up the news of a fault. */
export type DelayCause =
  | "detection"
  | "link"
  | "hours"
  | "absence"
  | "attention"
  | "never heeded"
  | "empty site";

export interface DelayShare {
  readonly cause: DelayCause;
  /** Mean hours, each fault counted for at most 28 days, that would go if this one cause did. */
  readonly hours: number;
}

const ALWAYS = dailyHours(0, 24);
/** Looks a minute of somebody who never takes the eyes off. */
const EVERY_SECOND = 60;

function channelsWith(
  model: NoticeModel,
  change: (channel: NoticeChannel) => NoticeChannel,
): Partial<NoticeModel> {
  return { channels: model.channels.map(change) };
}

const perSiteMinute = (perMinute: number): number => (perMinute > 0 ? EVERY_SECOND : 0);

/** The model with one cause of delay taken away; a channel that nobody can perceive stays so. */
function takenAway(cause: DelayCause, model: NoticeModel): NoticeModel {
  switch (cause) {
    case "detection":
      return { ...model, detector: { ...model.detector, perfect: true } };
    case "link":
      return { ...model, links: model.links.map((link) => ({ ...link, availability: 1 })) };
    case "hours": {
      const readers = model.readers.map((reader) => ({ ...reader, hours: ALWAYS }));
      const round = channelsWith(model, (channel) =>
        channel.signal === "message" ? channel : { ...channel, hours: ALWAYS },
      );
      return { ...model, ...round, readers };
    }
    case "absence":
      return { ...model, readers: model.readers.map((reader) => ({ ...reader, away: [] })) };
    case "attention": {
      const readers = model.readers.map((reader) => ({ ...reader, looksPerMinute: EVERY_SECOND }));
      const keen = channelsWith(model, (channel) =>
        channel.signal === "message"
          ? channel
          : { ...channel, noticesPerMinute: perSiteMinute(channel.noticesPerMinute) },
      );
      return { ...model, ...keen, readers };
    }
    case "never heeded": {
      const heeded = channelsWith(model, (channel) =>
        channel.signal === "message" ? { ...channel, neverHeeds: 0 } : { ...channel, dead: 0 },
      );
      return { ...model, ...heeded, unaware: 0 };
    }
    case "empty site":
      return { ...model, siteEmpty: { ...model.siteEmpty, share: 0 } };
  }
}

/** The causes that leave alone what the detector does. */
const OF_THE_SIGNAL: readonly DelayCause[] = [
  "link",
  "hours",
  "absence",
  "attention",
  "never heeded",
  "empty site",
];

/**
 * What delays the news most: for each cause, the mean hours that would be saved if it alone were taken away.
 *
 * The savings do not add up to the delay: causes overlap, and each is taken away by itself.
 * @returns for each combination of channels asked (default: all together) its causes, largest first
 */
export function delayCauses(
  model: NoticeModel,
  options: NoticeOptions = {},
): readonly (readonly DelayShare[])[] {
  const combinations = options.combinations ?? [model.channels.map((channel) => channel.id)];
  const means = (models: readonly NoticeModel[]): readonly (readonly number[])[] => {
    const variants = models.map((changed) => ({ model: changed, combinations }));
    return timesToNotice(variants, options).map((answers) => answers.map(({ meanHours }) => meanHours));
  };
  const [now, ...left] = means([model, ...OF_THE_SIGNAL.map((cause) => takenAway(cause, model))]);
  const [detected] = means([takenAway("detection", model)]);
  const without = [
    { cause: "detection" as const, left: detected! },
    ...OF_THE_SIGNAL.map((cause, i) => ({ cause, left: left[i]! })),
  ];
  return now!.map((mean, c) =>
    without
      .map(({ cause, left: means }) => ({ cause, hours: Math.max(0, mean - means[c]!) }))
      .sort((a, b) => b.hours - a.hours),
  );
}
