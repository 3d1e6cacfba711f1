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

/** A file that was taken from a folder, by what it holds: laid in again it is not taken again. */
export interface TakenFileTable {
  /** Id of the folder's entry in the settings. */
  folder: string;
  /** SHA-256, hexadecimal. */
  digest: string;
  name: string;
  at: number;
  taken: number;
  known: number;
}

/** A link by which an owner looks at the own sites; only its hash is kept. */
export interface OwnerLinkTable {
  id: string;
  token_hash: string;
  sites_json: string;
  /** For whom it was made. */
  label: string;
  issued_at: number;
  issued_by: string;
  expires_at: number;
  /** When it was first opened. */
  opened_at: number | null;
  revoked_at: number | null;
  revoked_by: string | null;
}

/** A value of a rule pack that somebody of the desk replaced; what was revised or taken back stays on record. */
export interface RuleOverrideTable {
  id: string;
  pack: string;
  /** Place of the value in the pack. */
  field: string;
  value: number;
  /** What the pack itself says there when it was replaced. */
  replaced: number;
  because: string;
  /** What the value is taken from. */
  source: string;
  by: string;
  put_at: number;
  /** null: in force. */
  ended_at: number | null;
  ended_by: string | null;
  ended_because: string | null;
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
