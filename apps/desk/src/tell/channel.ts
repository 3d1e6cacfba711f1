import type { DrillLight, MessageKind, RaisedMatter } from "@earthbell/model";
import type { Hear } from "./conversation.ts";

export type ChannelKind = "email" | "webhook" | "sms" | "mqtt";

/** One message to one person by one way, as the outbox keeps it: everything that is sent, nothing that has to be looked up. */
export interface Envelope {
  /** Idempotency: a duplicate of the same message carries the same key. */
  readonly key: string;
  readonly channel: ChannelKind;
  /** Mail address, phone number, URL, or topic of a beacon. */
  readonly address: string;
  readonly person: string;
  readonly site: string;
  /** Id of the case, alarm or drill: the thread to which the message belongs. */
  readonly matter: string;
  readonly kind: MessageKind;
  readonly sequence: number;
  readonly subject: string;
  /** Plain text, lines of any length; the safety words included. */
  readonly text: string;
  /** Where the person acknowledges: shows what it will do before it does it. Absent where nothing is to be acknowledged. */
  readonly acknowledgeUrl?: string;
  /** Of a beacon: the faults that keep it lit. */
  readonly raised?: readonly RaisedMatter[];
  /** Of a beacon: the drills for which it burns where there is no fault; out where there is neither. */
  readonly drills?: readonly DrillLight[];
  readonly writtenAt: number;
}

/** What the other side said. Only `accepted` counts as handed over. */
export type SendOutcome =
  | { readonly outcome: "accepted"; readonly reply: string }
  /** Try again: no connection, a greylisting, a full queue. */
  | { readonly outcome: "later"; readonly reason: string }
  /** This address will not do: the recipient is marked as broken, and the others are told. */
  | { readonly outcome: "refused"; readonly reason: string };

/** A way of reaching people. One that throws counts as `later`. */
export interface Channel {
  readonly kind: ChannelKind;
  /** @param hear  hears the conversation, which then goes over a connection of its own */
  send(envelope: Envelope, signal: AbortSignal, hear?: Hear): Promise<SendOutcome>;
  close(): Promise<void>;
}
