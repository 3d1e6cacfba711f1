import type { Grounds } from "../grounds.ts";
import type { MessageKind, MessageToSend } from "./delivery.ts";

/** Why nothing is said now: who or what holds it, and until when. */
export interface Hold {
  readonly because:
    | "shelved"
    | "suppressed-by-design"
    | "out-of-service"
    | "acknowledged"
    | "away"
    | "broken"
    | "post-ended"
    | "not-on-the-path"
    | "later-rung"
    | "rung-hours"
    | "interval"
    | "reading-hours"
    | "settling"
    | "nothing-to-tell";
  /** The person or rule that answers for the silence; null where it follows from the path. */
  readonly by: string | null;
  readonly untilAt: number | null;
}

/** Should this person be told now? */
export type TellDecision =
  | {
      readonly tell: true;
      readonly kind: MessageKind;
      readonly message: MessageToSend;
      readonly reason: Grounds;
      /** When to ask again, once the message is recorded. */
      readonly nextLookAt: number;
    }
  | {
      readonly tell: false;
      readonly hold: Hold;
      readonly reason: Grounds;
      /** When to ask again if nothing happens before; null where only an event can change the answer. */
      readonly nextLookAt: number | null;
    };

export function held(hold: Hold, reason: Grounds): TellDecision {
  return { tell: false, hold, reason, nextLookAt: hold.untilAt };
}
