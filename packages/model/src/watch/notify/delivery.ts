import type { Alarm } from "../alarm/alarm.ts";

export type MessageKind = "first" | "repeat" | "escalation" | "cleared" | "drill";

/** What a message said of one alarm. */
export interface Told {
  readonly alarm: string;
  readonly occurrence: number;
  readonly condition: "active" | "clear";
}

/** The last message that was handed over to one person, by one path, about one matter. Recorded after sending. */
export interface Delivery {
  readonly matter: string;
  readonly path: string;
  readonly person: string;
  readonly kind: MessageKind;
  /** 1 for the first message of the matter to this person by this path. */
  readonly sequence: number;
  readonly at: number;
  readonly told: readonly Told[];
}

/** A message to send: the delivery to record once it is handed over, lacking only its instant. */
export interface MessageToSend extends Omit<Delivery, "at"> {
  /**
   * Idempotency. A crash between sending and recording leaves the last delivery as it was, so that the next decision gives
   * the same key and the duplicate can be known as one.
   */
  readonly key: string;
}

export function messageToSend(message: Omit<MessageToSend, "key">): MessageToSend {
  const { matter, path, person, kind, sequence } = message;
  return { ...message, key: JSON.stringify([matter, path, person, kind, sequence]) };
}

/** What is on record as said once this message is out: earlier statements stay unless it speaks of the same alarm. */
export function toldAfter(before: readonly Told[], alarms: readonly Alarm[]): readonly Told[] {
  const now = alarms.map(({ id, occurrence, condition }) => ({ alarm: id, occurrence, condition }));
  return [...before.filter(({ alarm }) => now.every((said) => said.alarm !== alarm)), ...now];
}
