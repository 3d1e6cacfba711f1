export type OutboxState = "waiting" | "claimed" | "sent" | "refused";

/** One message by one way (channel and address). */
export interface OutboxTable {
  /** Idempotency key of the envelope. */
  key: string;
  channel: string;
  address: string;
  person: string;
  site: string;
  matter: string;
  kind: string;
  sequence: number;
  state: OutboxState;
  /** `Envelope`; without its acknowledgement link once sent. */
  envelope_json: string;
  /** Why it is sent, in words. */
  reason: string;
  written_at: number;
  due_at: number;
  attempts: number;
  lease_until: number | null;
  claimed_by: string | null;
  finished_at: number | null;
  /** What the other side said last, or why the last attempt failed. */
  reply: string | null;
}

/** The decided messages that an outbox row carries: itself, or many in a storm. */
export interface OutboxCoverTable {
  /** Key of the decided message and the channel. */
  way_key: string;
  outbox_key: string;
  site: string;
  matter: string;
  path_id: string;
  person: string;
  kind: string;
  sequence: number;
  /** `Told[]`. */
  told_json: string;
}

/** `Delivery`: recorded after sending, never before. */
export interface DeliveryTable {
  matter: string;
  path_id: string;
  person: string;
  sequence: number;
  kind: string;
  at: number;
  told_json: string;
  channel: string;
  outbox_key: string;
}

/** A channel and address that does not reach anybody. */
export interface BrokenWayTable {
  channel: string;
  address: string;
  since_at: number;
  reason: string;
}

/** `PathWatch`: silence is a stored deadline. */
export interface PathWatchTable {
  site: string;
  path_id: string;
  deadline_at: number | null;
  silent: number;
  watch_json: string;
}

/** `Drill`. */
export interface DrillTable {
  id: string;
  site: string;
  path_id: string;
  started_at: number;
  answer_by_at: number;
  ended_at: number | null;
  outcome: "passed" | "missed" | null;
  /** Key of the device's reading, flagged as a drill, that began it; null where a person or the schedule did. */
  reading_key: string | null;
  drill_json: string;
}

/** When the next drill of a path begins by itself. */
export interface DrillPlanTable {
  site: string;
  path_id: string;
  at: number;
}

/** Whom a path tells next when nobody answers: `Rung[]`, the desk's addition to the site file. */
export interface LadderTable {
  site: string;
  path_id: string;
  rungs_json: string;
  put_at: number;
  put_by: string;
}

/** Links by which a message is acknowledged: each works once, until it expires. Only the hash of the link is kept. */
export interface AckLinkTable {
  token_hash: string;
  outbox_key: string;
  person: string;
  issued_at: number;
  expires_at: number;
  used_at: number | null;
}

/** What a beacon shows of one site: `RaisedMatter[]`, and behind them `DrillLight[]`. */
export interface BeaconSiteTable {
  beacon: string;
  site: string;
  raised_json: string;
}
