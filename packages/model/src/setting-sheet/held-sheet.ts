import type { SettingSheet } from "./read-setting-sheet.ts";

/** A setting sheet as it is held now. */
export interface HeldSheet {
  readonly sheet: SettingSheet;
  /** null: it was never issued. */
  readonly revision: number | null;
  /** SHA-256 of what it holds, in hexadecimal, as its paper states it. */
  readonly digest: string;
}

/** Cautions to be read before a device is opened for the first step of any setting sheet. */
export const SETTING_CAUTIONS: readonly string[] = [
  "licensed-and-local",
  "light-is-supply",
  "dc-lives-on",
  "no-repeated-reset",
];
