import type { WeeklyHours } from "../assess/site.ts";

/** The onset of a fault: shares of the three kinds; what is left of 1 is born at any time of day. */
export interface OnsetMix {
  readonly dawnWetShare: number;
  readonly daylightShare: number;
  readonly dewBeforeSunriseMin: number;
  readonly dewAfterSunriseMin: number;
}

export interface NoticeDetector {
  /** Insulation is checked when the inverter starts, each morning. */
  readonly atStart: boolean;
  /** Insulation is watched all day while there is light. */
  readonly continuous: boolean;
  /** Share of faults seen by a residual-current monitor or an interrupter while the inverter runs, 0 to 1. */
  readonly residualShare: number;
  readonly startAfterSunriseMin: number;
  /** A detector that sees every fault when it is born, day and night: only to see what the real one costs. */
  readonly perfect?: boolean;
}

/** A connection that carries messages. Channels that name the same link lose it together. */
export interface NoticeLink {
  readonly id: string;
  /** Share of time up, 0 to 1. At 0 it never comes back. */
  readonly availability: number;
  /** Mean length of an outage [min]; lengths are exponential. */
  readonly meanOutageMin: number;
}

/** A reader of messages. One person on several channels is one reader. */
export interface NoticeReader {
  readonly id: string;
  readonly hours: WeeklyHours;
  /** Looks per minute inside the hours, at random times. */
  readonly looksPerMinute: number;
  /** IANA zone of the hours; absent: the site's. */
  readonly timezone?: string;
  /** Absences, first and last local day, YYYY-MM-DD. */
  readonly away: readonly { readonly from: string; readonly to: string }[];
}

export interface MessageChannel {
  readonly signal: "message";
  readonly id: string;
  readonly link: string;
  readonly readers: readonly string[];
  /** Minutes between attempts; null: sent once. */
  readonly repeatMin: number | null;
  /** Minutes of silence after which the loss of the link is itself reported; null: nobody notices. */
  readonly supervisedMin: number | null;
  /** From that report until somebody has looked at the site. */
  readonly checkAfterSilenceMin: number;
  /** Probability that a reader never heeds this message, 0 to 1. */
  readonly neverHeeds: number;
}

/** A sounder, beacon or light on the site. */
export interface SiteChannel {
  readonly signal: "annunciator" | "indicator";
  readonly id: string;
  readonly hours: WeeklyHours;
  /** Chances to notice per minute inside the hours. */
  readonly noticesPerMinute: number;
  /** Probability that this channel is dead, unheard or unseen whatever happens. */
  readonly dead: number;
}

export type NoticeChannel = MessageChannel | SiteChannel;

/**
 * One site as the time to notice sees it: onset → detector → channels → people, with what they fail on together.
 *
 * Links, an empty site and people who do not know what the alarm means are common causes: each is modelled once.
 */
export interface NoticeModel {
  readonly latitudeDeg?: number;
  readonly longitudeDeg?: number;
  readonly timezone?: string;
  /** First local day of the year of onsets, YYYY-MM-DD. */
  readonly yearFrom: string;
  readonly onset: OnsetMix;
  readonly detector: NoticeDetector;
  readonly links: readonly NoticeLink[];
  readonly readers: readonly NoticeReader[];
  readonly channels: readonly NoticeChannel[];
  readonly siteEmpty: { readonly share: number; readonly lengthMin: number };
  /** Probability that nobody on the site knows what a sounder or light means. */
  readonly unaware: number;
}

/** One model and the combinations of its channels asked for. */
export interface NoticeVariant {
  readonly model: NoticeModel;
  readonly combinations: readonly (readonly string[])[];
}
