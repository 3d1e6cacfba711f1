import type {
  AccountTable,
  ColumnMappingTable,
  DoneRequestTable,
  InvitationTable,
  JournalTable,
  OwnerLinkTable,
  PasskeyTable,
  PersonTokenTable,
  RuleOverrideTable,
  SessionTable,
  SiteTokenTable,
  TakenFileTable,
} from "./record-tables.ts";
import type {
  AckLinkTable,
  BeaconSiteTable,
  BrokenWayTable,
  DeliveryTable,
  DrillPlanTable,
  DrillTable,
  LadderTable,
  OutboxCoverTable,
  OutboxTable,
  PathWatchTable,
} from "./told-tables.ts";
import type {
  AlarmTable,
  CaseTable,
  DetectorTable,
  InsulationDayTable,
  LastKnownTable,
  MarkTable,
  NextLookTable,
  ReadingTable,
  SetAsideTable,
  SiteTable,
} from "./watched-tables.ts";
import type { VisitEntryTable, VisitPhotoTable, VisitTable } from "./visit-tables.ts";

export type * from "./record-tables.ts";
export type * from "./told-tables.ts";
export type * from "./visit-tables.ts";
export type * from "./watched-tables.ts";

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
  beacon_site: BeaconSiteTable;
  taken_file: TakenFileTable;
  owner_link: OwnerLinkTable;
  rule_override: RuleOverrideTable;
  site_token: SiteTokenTable;
  person_token: PersonTokenTable;
  column_mapping: ColumnMappingTable;
  account: AccountTable;
  passkey: PasskeyTable;
  session: SessionTable;
  invitation: InvitationTable;
  done_request: DoneRequestTable;
  journal: JournalTable;
  visit: VisitTable;
  visit_entry: VisitEntryTable;
  visit_photo: VisitPhotoTable;
}
