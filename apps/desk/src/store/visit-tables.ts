/** A visit that was handed over. */
export interface VisitTable {
  /** Made by the device that began it. */
  id: string;
  site: string;
  case_id: string | null;
  title: string;
  begun_at: number;
  set_up_json: string;
  by: string;
  received_at: number;
}

/** What somebody entered; rows are only added. */
export interface VisitEntryTable {
  visit: string;
  id: string;
  by: string;
  entry_json: string;
  received_at: number;
}

/** A photo; the picture itself lies beside the database under its digest. */
export interface VisitPhotoTable {
  visit: string;
  id: string;
  name: string;
  taken_at: number;
  media_type: string;
  bytes: number;
  /** SHA-256, hexadecimal. */
  digest: string;
  by: string;
  received_at: number;
}
