export type * from "./faults/input-fault.ts";
export { explainFault, FAULT_CATALOGUE, type FaultCode, type FaultPage } from "./faults/catalogue.ts";
export { DEFAULT_MAX_BYTES, type ReadOptions } from "./door/open-document.ts";
export { readSite } from "./site/read-site.ts";
export { SITE_FORMAT } from "./site/site-file.ts";
export { siteText } from "./site/site-text.ts";
export { readAdvice } from "./advice/read-advice.ts";
export { ADVICE_FORMAT } from "./advice/advice-file.ts";
export { isDay } from "./fields/plain-fields.ts";
export { formatHours, parseHours, type HoursResult } from "./site/hours.ts";
export { readVisit, type VisitOnFile } from "./visit/read-visit.ts";
export type { LookAtPhoto, VisitPhoto } from "./visit/photo-paths.ts";
export { VISIT_FORMAT } from "./visit/visit-file.ts";
export { type DeskSettings, readDesk } from "./desk/read-desk.ts";
export { DESK_FORMAT } from "./desk/desk-file.ts";
export {
  deskSections,
  EDITABLE_SECTIONS,
  type EditableSection,
  editDeskText,
  type SectionWanted,
} from "./desk/edit-desk-text.ts";
export { limitsInForce } from "./desk/limit-fields.ts";
export {
  DESK_CODES,
  type DeskCodePage,
  type DeskWatchCode,
  type FolderCode,
  type RequestCode,
} from "./desk-codes/index.ts";
export { type Commissioning, readCommissioning } from "./commissioning/read-commissioning.ts";
export {
  commissioningText,
  typedCommissioning,
  type TypedCommissioning,
} from "./commissioning/commissioning-text.ts";
export type { Judgement } from "./commissioning/judge-reading.ts";
export { judgeResults, type TypedResult } from "./commissioning/judge-results.ts";
export { editSiteText, type SiteChange } from "./register/edit-site-text.ts";
export { editPeopleText } from "./register/edit-people-text.ts";
export type { PersonChange } from "./register/person-change.ts";
export { readRegisterTable, type RegisterRow } from "./register/read-register-table.ts";
export { checkOverride, type WantedOverride } from "./rule-overrides/check-override.ts";
export { readRuleOverrides } from "./rule-overrides/read-rule-overrides.ts";
export { type OverrideOnRecord, ruleOverridesText } from "./rule-overrides/rule-overrides-text.ts";
export { readRulePack } from "./rule-pack/read-rule-pack.ts";
export { type HeldSheet, SETTING_CAUTIONS } from "./setting-sheet/held-sheet.ts";
export { readSettingSheet, type SettingSheet } from "./setting-sheet/read-setting-sheet.ts";
export { settingSheetText, type TypedSettingSheet } from "./setting-sheet/setting-sheet-text.ts";
export { RULE_PACK_FORMAT } from "./rule-pack/rule-pack-file.ts";
export {
  adviceJsonSchema,
  commissioningJsonSchema,
  deskJsonSchema,
  ruleOverridesJsonSchema,
  rulePackJsonSchema,
  settingSheetJsonSchema,
  siteJsonSchema,
  visitJsonSchema,
  type JsonSchema,
} from "./json-schema.ts";
export { fitsFolded, fitsWords, folded } from "./typed-words/fits-words.ts";
export { visitText } from "./visit/visit-text.ts";
export * from "./sunspec/index.ts";
export * from "./watch/index.ts";
export * from "./history/index.ts";
export * from "./visit-entries/index.ts";
