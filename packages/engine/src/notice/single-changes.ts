import { dailyHours, NOTICE_ASSUMPTIONS as assume } from "./assumptions.ts";
import type { MessageChannel, NoticeChannel, NoticeModel, SiteChannel } from "./notice-model.ts";
import type { NoticeAnswer } from "./notice-answer.ts";
import { type NoticeOptions, timesToNotice } from "./time-to-notice.ts";

export type ChangeKind =
  | "add-recipient"
  | "add-weekend-recipient"
  | "repeat-hourly"
  | "supervise-link"
  | "second-link"
  | "continuous-check"
  | "tell-owner"
  | "move-indicator"
  | "add-annunciator"
  | "add-beacon"
  | "supervise-loop";

/** One change to a site and what it would gain, all paths working together. */
export interface SingleChange {
  readonly kind: ChangeKind;
  /** The change in plain words, with what it supposes. */
  readonly words: string;
  /** Mean hours gained, each fault counted for at most 28 days. */
  readonly gainedHours: number;
  readonly before: NoticeAnswer;
  readonly after: NoticeAnswer;
}

interface Candidate {
  readonly kind: ChangeKind;
  readonly words: string;
  readonly model: NoticeModel;
}

const HOURLY = 60;
const isMessage = (channel: NoticeChannel): channel is MessageChannel => channel.signal === "message";
const isSite = (channel: NoticeChannel): channel is SiteChannel => channel.signal !== "message";

function withReader(
  model: NoticeModel,
  id: string,
  hours: SiteChannel["hours"],
  looksPerDay: number,
): NoticeModel {
  const minutes = hours.reduce((sum, { fromMinute, toMinute }) => sum + toMinute - fromMinute, 0);
  const looksPerMinute = (looksPerDay * hours.length) / minutes;
  return {
    ...model,
    readers: [...model.readers, { id, hours, looksPerMinute, away: [] }],
    channels: model.channels.map((channel) =>
      isMessage(channel) ? { ...channel, readers: [...channel.readers, id] } : channel,
    ),
  };
}

function withMessages(model: NoticeModel, apply: (channel: MessageChannel) => MessageChannel): NoticeModel {
  const channels = model.channels.map((channel) => (isMessage(channel) ? apply(channel) : channel));
  return { ...model, channels };
}

function withSiteChannels(model: NoticeModel, apply: (channel: SiteChannel) => SiteChannel): NoticeModel {
  const channels = model.channels.map((channel) => (isSite(channel) ? apply(channel) : channel));
  return { ...model, channels };
}

function messageCandidates(model: NoticeModel): readonly Candidate[] {
  const messages = model.channels.filter(isMessage);
  if (messages.length === 0) return [];
  const second: NoticeModel = {
    ...model,
    links: [...model.links, { id: "second link", availability: 0.98, meanOutageMin: 540 }],
    channels: [
      ...model.channels,
      { ...messages[0]!, id: "second link", link: "second link", repeatMin: HOURLY },
    ],
  };
  const weekend = dailyHours(8, 18).slice(5);
  return [
    {
      kind: "add-recipient",
      words: "Add a recipient who looks four times a day, Monday to Friday 09:00-17:00.",
      model: withReader(model, "added recipient", dailyHours(9, 17, 5), 4),
    },
    {
      kind: "add-weekend-recipient",
      words: "Add a recipient who looks four times a day at weekends, 08:00-18:00.",
      model: withReader(model, "added weekend recipient", weekend, 4),
    },
    {
      kind: "repeat-hourly",
      words: "Repeat every message hourly.",
      model: withMessages(model, (channel) => ({
        ...channel,
        repeatMin: Math.min(channel.repeatMin ?? Infinity, HOURLY),
        neverHeeds: Math.min(channel.neverHeeds, assume.neverHeedsRepeated.value),
      })),
    },
    {
      kind: "supervise-link",
      words: "Have the link report in hourly and treat silence as a fault.",
      model: withMessages(model, (channel) => ({
        ...channel,
        supervisedMin: Math.min(channel.supervisedMin ?? Infinity, HOURLY),
      })),
    },
    {
      kind: "second-link",
      words: "Send the message over a second, independent link as well.",
      model: second,
    },
  ];
}

function addedAnnunciators(model: NoticeModel): readonly Candidate[] {
  const withOne = (noticesPerHour: number): NoticeModel => {
    const added: SiteChannel = {
      signal: "annunciator",
      id: "added annunciator",
      hours: dailyHours(7, 19),
      noticesPerMinute: noticesPerHour / 60,
      dead: assume.loopDeadSupervised.value,
    };
    return { ...model, channels: [...model.channels, added] };
  };
  return [
    {
      kind: "add-annunciator",
      words: "Add a sounder where somebody is from 07:00 to 19:00, on a supervised loop.",
      model: withOne(assume.reactionsPerHour.value),
    },
    {
      kind: "add-beacon",
      words:
        "Add a beacon in view of somebody from 07:00 to 19:00, within its range by day, on a supervised loop.",
      model: withOne(assume.beaconNoticesPerHour.value),
    },
  ];
}

const LOOKS_TEN_TIMES_A_DAY = 10 / (12 * 60);

function siteCandidates(model: NoticeModel): readonly Candidate[] {
  const onSite = model.channels.filter(isSite);
  if (onSite.length === 0) return addedAnnunciators(model);
  return [
    ...addedAnnunciators(model),
    {
      kind: "tell-owner",
      words: "Tell the people on site in writing what the sounder and the light mean.",
      model: { ...model, unaware: Math.min(model.unaware, assume.unawareTold.value) },
    },
    {
      kind: "move-indicator",
      words: "Repeat the light where somebody who knows it looks at it ten times a day.",
      model: withSiteChannels(model, (channel) => {
        if (channel.signal !== "indicator") return channel;
        return { ...channel, noticesPerMinute: Math.max(channel.noticesPerMinute, LOOKS_TEN_TIMES_A_DAY) };
      }),
    },
    {
      kind: "supervise-loop",
      words: "Supervise the annunciator's loop.",
      model: withSiteChannels(model, (channel) => ({
        ...channel,
        dead: Math.min(channel.dead, assume.loopDeadSupervised.value),
      })),
    },
  ];
}

function detectorCandidates(model: NoticeModel): readonly Candidate[] {
  if (model.detector.continuous) return [];
  const watched: NoticeModel = { ...model, detector: { ...model.detector, continuous: true } };
  return [
    { kind: "continuous-check", words: "Watch insulation all day, not only at start.", model: watched },
  ];
}

/**
 * Single changes to a site, the one that gains most hours first; changes that gain less than a minute are left out.
 *
 * Each is tried by itself with all paths working together. What it supposes is in its words; the gains of two changes
 * do not add up.
 */
export function singleChanges(model: NoticeModel, options: NoticeOptions = {}): readonly SingleChange[] {
  const answersOf = (models: readonly NoticeModel[]): readonly NoticeAnswer[] => {
    const all = models.map((one) => ({ model: one, combinations: [one.channels.map(({ id }) => id)] }));
    return all.length === 0 ? [] : timesToNotice(all, options).map(([answer]) => answer!);
  };
  const signals = [...messageCandidates(model), ...siteCandidates(model)];
  const detectors = detectorCandidates(model);
  const [before, ...bySignal] = answersOf([model, ...signals.map((candidate) => candidate.model)]);
  const byDetector = answersOf(detectors.map((candidate) => candidate.model));
  const found = [...byDetector, ...bySignal];
  return [...detectors, ...signals]
    .map(({ kind, words }, i) => {
      const after = found[i]!;
      return { kind, words, gainedHours: before!.meanHours - after.meanHours, before: before!, after };
    })
    .filter(({ gainedHours }) => gainedHours > 1 / 60)
    .sort((a, b) => b.gainedHours - a.gainedHours);
}
