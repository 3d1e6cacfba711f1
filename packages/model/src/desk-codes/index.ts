import { WATCH_CODES } from "../watch/codes.ts";
import type { CodePage } from "../watch/refusal.ts";
import { deskWatchCodes } from "./desk-watch-codes.ts";
import { folderCodes } from "./folder-codes.ts";
import { requestCodes } from "./request-codes.ts";
import { storeCodes } from "./store-codes.ts";
import { sunspecCodes } from "./sunspec-codes.ts";

export type { DeskWatchCode } from "./desk-watch-codes.ts";
export type { FolderCode } from "./folder-codes.ts";
export type { RequestCode } from "./request-codes.ts";

/** A code that the desk can give, and what it is about. */
export interface DeskCodePage extends CodePage {
  readonly code: string;
  readonly group: string;
}

function pagesOf(codes: Readonly<Record<string, CodePage>>, group: string): readonly DeskCodePage[] {
  return Object.entries(codes).map(([code, page]) => ({ code, group, ...page }));
}

/** Everything that the desk can refuse or report, for `explain`. */
export const DESK_CODES: readonly DeskCodePage[] = [
  ...WATCH_CODES.map((page) => ({ ...page, group: "alarms, cases and readings" })),
  ...pagesOf(deskWatchCodes, "steps asked of the desk"),
  ...pagesOf(folderCodes, "the folder of the desk"),
  ...pagesOf(requestCodes, "requests to the desk"),
  ...pagesOf(storeCodes, "the store of the desk"),
  ...pagesOf(sunspecCodes, "devices that the desk reads"),
];
