export { NOTICE_ASSUMPTIONS } from "./assumptions.ts";
export { noticeFromSite, type FromSiteOptions, type NoticeFromSite } from "./from-site.ts";
export type {
  MessageChannel,
  NoticeChannel,
  NoticeDetector,
  NoticeLink,
  NoticeModel,
  NoticeReader,
  OnsetMix,
  SiteChannel,
} from "./notice-model.ts";
export type { NoticeAnswer } from "./notice-answer.ts";
export { timeToNotice, type NoticeOptions } from "./time-to-notice.ts";
export { type DelayCause, delayCauses, type DelayShare } from "./delay-causes.ts";
export { type ChangeKind, type SingleChange, singleChanges } from "./single-changes.ts";
