import type { WatchReading } from "@earthbell/model";

/** What became of a batch of readings. A listener that hears back only then tells its device that it was heard. */
export interface Accepted {
  /** Taken in for the first time. */
  readonly taken: number;
  /** Known by their key already. */
  readonly known: number;
  /** Of a site, array or device that the desk does not know, or malformed; kept aside and counted, never lost in silence. */
  readonly setAside: readonly { readonly key: string; readonly reason: string }[];
}

/**
 * The one way into the desk: every listener hands its readings to this. It resolves once they are stored durably, with
 * the alarms, cases and messages that follow from them, in one transaction; it rejects when they could not be stored, and then the listener keeps them and tries again.
 */
export type Accept = (readings: readonly WatchReading[]) => Promise<Accepted>;

/** A running listener. */
export interface Listener {
  readonly name: string;
  /** What it hears and what it does not, in a line a person; for /healthz and the metrics. */
  health(): ListenerHealth;
  stop(): Promise<void>;
}

export interface ListenerHealth {
  readonly name: string;
  readonly state: "hearing" | "partly-deaf" | "deaf";
  readonly text: string;
  /** Devices, topics or files it knows, and those it cannot hear now. */
  readonly known: number;
  readonly unheard: number;
}
