import { alarmCodes } from "./alarm/alarm-codes.ts";
import { caseCodes } from "./case/case-codes.ts";
import { drillCodes } from "./drill/drill-codes.ts";
import { readingCodes } from "./reading-codes.ts";
import type { CodePage } from "./refusal.ts";

const ALL = { ...readingCodes, ...alarmCodes, ...caseCodes, ...drillCodes } as const;

export type WatchCode = keyof typeof ALL;

/** Everything that the watch can refuse, for `explain`. Codes never change; words may. */
export const WATCH_CODES: readonly ({ readonly code: WatchCode } & CodePage)[] = (
  Object.keys(ALL) as WatchCode[]
).map((code) => ({ code, ...ALL[code] }));
