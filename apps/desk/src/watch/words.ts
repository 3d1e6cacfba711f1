import type { Person, Site } from "@earthbell/engine";
import type { Grounds, Matter, MessageToSend, PlannedMessage, TellPath } from "@earthbell/model";

/** A decided message to one person, with everything that its words may speak of. */
export interface Occasion {
  readonly matter: Matter;
  readonly message: MessageToSend;
  readonly person: Person;
  readonly path: TellPath;
  readonly site: Site;
  /** Why it is sent now. */
  readonly reason: Grounds;
  /** What is wrong with the path at this instant. */
  readonly remarks: readonly string[];
}

/** Something about the desk itself, told to those who keep it. */
export interface DeskNotice {
  readonly kind: "not-listening" | "nobody-to-tell" | "drill-missed" | "clock-went-back";
  readonly site: string | null;
  readonly text: string;
}

export interface Letter {
  readonly subject: string;
  readonly text: string;
}

/** What messages say. The watch decides that and to whom; this finds the words. */
export interface Words {
  message(occasion: Occasion): Letter;
  /** One message that tells of many sites at once. */
  group(planned: PlannedMessage, occasions: readonly Occasion[]): Letter;
  notice(notice: DeskNotice): Letter;
}
