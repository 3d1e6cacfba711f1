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
