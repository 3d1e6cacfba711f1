/**
 * The tables of the desk. Instants are epoch milliseconds UTC, flags 0 or 1. What the pure machines of the watch work on is
 * kept whole as JSON text (`*_json`); the columns beside it are what queries ask for, and are written from it.
 */
export interface DeskTables {
  mark: MarkTable;
  site: SiteTable;
  detector: DetectorTable;
  alarm: AlarmTable;
  fault_case: CaseTable;
  reading: ReadingTable;
  last_known: LastKnownTable;
  insulation_day: InsulationDayTable;
  set_aside: SetAsideTable;
  next_look: NextLookTable;
  outbox: OutboxTable;
  outbox_cover: OutboxCoverTable;
  delivery: DeliveryTable;
  broken_way: BrokenWayTable;
  path_watch: PathWatchTable;
  drill: DrillTable;
  drill_plan: DrillPlanTable;
  ladder: LadderTable;
  ack_link: AckLinkTable;
  site_token: SiteTokenTable;
  person_token: PersonTokenTable;
  column_mapping: ColumnMappingTable;
  account: AccountTable;
  passkey: PasskeyTable;
  session: SessionTable;
  invitation: InvitationTable;
  done_request: DoneRequestTable;
  journal: JournalTable;
}

/** Single numbers that the desk remembers by name: its pen, counters, its last heartbeat, whether it was stopped in order. */
export interface MarkTable {
  name: string;
  value: number;
}

/** The newest text of each site file, and what was read from it. */
export interface SiteTable {
  id: string;
  /** 1 for the first text; each other text that is put in counts one up. */
  revision: number;
  /** SHA-256 of the text, hexadecimal. */
  digest: string;
  text: string;
  /** `Site` of @earthbell/engine. */
  site_json: string;
  /** `ArrayLimits` of each array, by its id. */
  limits_json: string;
  /** Of the first text. */
  known_since: number;
  /** Of the newest text. */
  put_at: number;
  put_by: string;
  removed_at: number | null;
}

/**
 * `DetectorState` of one array, stored when more of it changes than the instants of its levels and its days: those are in
 * `last_known` and `insulation_day`, from which they are read back.
 */
export interface DetectorTable {
  site: string;
  array_id: string;
  state_json: string;
}

/** `Alarm`: one kind of sign of one array or path, for as long as that exists. */
export interface AlarmTable {
  id: string;
  site: string;
  array_id: string | null;
  path_id: string | null;
  person: string | null;
  sign: string;
  condition: "active" | "clear";
  occurrence: number;
  active_at: number | null;
  alarm_json: string;
}

/** `Case`. At most one case of an array is open. */
export interface CaseTable {
  id: string;
  site: string;
  array_id: string;
  opened_at: number;
  closed_at: number | null;
  case_json: string;
}

/** Raw readings, for some weeks. A healthy bit that says again what it said, and heartbeats, are only in `last_known`. */
export interface ReadingTable {
  key: string;
  site: string;
  /** Empty where the device does not tell its arrays apart. */
  array_id: string;
  device: string;
  at: number;
  kind: string;
  /** Number as a number, true as 1, false as 0; null for words and for no value. */
  value_number: number | null;
  value_word: string | null;
  quality: string;
  source: string;
  received_at: number;
}

/** The newest reading of each kind from each device by each way into the desk. */
export interface LastKnownTable {
  site: string;
  array_id: string;
  device: string;
  source: string;
  kind: string;
  at: number;
  value_number: number | null;
  value_word: string | null;
  quality: string;
  key: string;
  received_at: number;
  /** Instant of the newest good reading of this kind; null where there was none. */
  good_at: number | null;
}

/** Insulation of one local date as one device saw it [Ω]; kept for ever. */
export interface InsulationDayTable {
  site: string;
  array_id: string;
  device: string;
  /** YYYY-MM-DD in the zone of the site. */
  date: string;
  lowest_ohms: number;
  highest_ohms: number;
  /** Lowest before the morning ends; null where no check came by then. */
  morning_lowest_ohms: number | null;
}

/** What arrived and could not be taken in. */
export interface SetAsideTable {
  /** SHA-256 of what arrived, so that the same thing arriving again is one row. */
  id: string;
  key: string;
  site: string | null;
  reason: string;
  reading_json: string;
  received_at: number;
  times: number;
}

/** The instant at which a site has to be looked at again. */
export interface NextLookTable {
  site: string;
  at: number;
}

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

/** Tokens by which a site pushes its readings; only the hash is kept. */
export interface SiteTokenTable {
  token_hash: string;
  site: string;
  label: string;
  issued_at: number;
  issued_by: string;
  revoked_at: number | null;
  revoked_by: string | null;
}

/** Tokens by which people ask the desk; only the hash is kept. */
export interface PersonTokenTable {
  token_hash: string;
  /** The name that answers for what is done with it. */
  person: string;
  issued_at: number;
  issued_by: string;
  revoked_at: number | null;
}

/** Somebody who signs in. */
export interface AccountTable {
  id: string;
  name: string;
  role: "service" | "technician" | "installer" | "owner";
  /** Sites to which the account is bound, as a list of ids; null for all. */
  sites_json: string | null;
  /** Argon2id; null for an account that has passkeys only. */
  password_hash: string | null;
  created_at: number;
  created_by: string;
  disabled_at: number | null;
}

export interface PasskeyTable {
  /** Credential id, base64url. */
  id: string;
  account_id: string;
  /** COSE key, base64url. */
  public_key: string;
  counter: number;
  transports_json: string;
  label: string;
  created_at: number;
}

/** A browser that is signed in; only the hash of its cookie is kept. */
export interface SessionTable {
  token_hash: string;
  account_id: string;
  created_at: number;
  seen_at: number;
}

/** A link by which somebody makes an account, once; only its hash is kept. */
export interface InvitationTable {
  token_hash: string;
  role: AccountTable["role"];
  sites_json: string | null;
  issued_at: number;
  issued_by: string;
  expires_at: number;
  used_at: number | null;
}

/** How the columns of a file of readings are read, by the name under which it was saved. */
export interface ColumnMappingTable {
  name: string;
  mapping_json: string;
  put_at: number;
  put_by: string;
}

/** What a request with an idempotency key was answered, so that the same request sent twice is carried out once. */
export interface DoneRequestTable {
  key: string;
  answer_json: string;
  at: number;
}

/** Everything that happened, in order; rows are only added, and each carries the hash of the one before. */
export interface JournalTable {
  sequence: number;
  at: number;
  kind: string;
  site: string | null;
  /** Id of the alarm, case, drill, message or path that it is about. */
  subject: string | null;
  by: string | null;
  text: string;
  before_hash: string;
  hash: string;
}
