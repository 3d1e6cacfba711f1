import type { Person } from "@earthbell/engine";
import type {
  AlarmMatter,
  Drill,
  Grounds,
  MessageKind,
  PlannedMessage,
  TellPath,
  WatchLimits,
} from "@earthbell/model";
import type { ChannelKind } from "../channel.ts";

/** What every message needs to know of its reader and its site. */
interface Addressed {
  /** A text message says the same in fewer lines. */
  readonly channel: ChannelKind;
  readonly person: { readonly id: string; readonly role?: Person["role"] };
  readonly site: SiteWords;
  /** Where this person acknowledges; absent where nothing is to be acknowledged. */
  readonly acknowledgeUrl?: string;
  /** The limits in force; absent: those of the program. */
  readonly limits?: WatchLimits;
}

export interface SiteWords {
  readonly id: string;
  readonly name?: string;
  /** IANA zone of the site: instants are told in it and in UTC. */
  readonly zone: string;
  /** Whom an owner calls: a name, a number or both. Absent: the message says that none is on record. */
  readonly contact?: string;
}

/** Alarms of a case, or one alarm that wants looking after. */
export interface AlarmOccasion extends Addressed {
  readonly about: "alarms";
  readonly matter: AlarmMatter;
  readonly path: TellPath;
  readonly kind: Exclude<MessageKind, "drill">;
  readonly sequence: number;
  readonly reason: Grounds;
  readonly now: number;
  /** What the detector said, one line each; absent where it is not at hand. */
  readonly saw?: readonly string[];
}

export interface DrillOccasion extends Addressed {
  readonly about: "drill";
  readonly drill: Drill;
  readonly path: TellPath;
  readonly sequence: number;
}

/** Many decided messages in one. */
export interface StormOccasion extends Addressed {
  readonly about: "storm";
  readonly planned: PlannedMessage;
  /** It tells of earth faults; otherwise of paths and detectors that want looking after. */
  readonly faults: boolean;
}

/**
 * Something about the desk itself, or about its paths. Where it concerns no one site, `site` names the whole desk:
 * `{ id: "desk", name: "this desk", zone: "UTC" }`.
 */
export interface NoticeOccasion extends Addressed {
  readonly about: "notice";
  readonly notice: "nobody-to-tell" | "drill-missed" | "clock-went-back";
  /** What was seen, in words, with the reason of the decision. */
  readonly text: string;
  readonly at: number;
}

/** The desk was not running and did not stop in order: something may have gone unheard. */
export interface UncleanStopOccasion extends Addressed {
  readonly about: "unclean-stop";
  /** Last instant at which the desk is known to have been at work. */
  readonly lastAtWorkAt: number;
  readonly startedAt: number;
}

export type Occasion = AlarmOccasion | DrillOccasion | StormOccasion | NoticeOccasion | UncleanStopOccasion;

/** A message as it is stored and sent. The text follows the plain layout that html-of-text.ts reads. */
export interface Written {
  readonly subject: string;
  readonly text: string;
}

export type Words = (occasion: Occasion) => Written;
