import type { SiteCodeEntry } from "./site-codes.ts";

const ours = { source: "rule of this program", tag: "design choice" } as const;
const practice = { source: "practice of the trade", tag: "common practice" } as const;

export const ownerCodes = {
  OWNER_NOT_INFORMED: {
    title: "No record that the owner was told about the alarm",
    meaning:
      "An owner who was not told what the alarm looks like and what to do does not act on it. The file holds no record of a written notice.",
    next: "Give the owner the written notice and record its date and number.",
    severity: "caution",
    ...practice,
  },
  OWNER_DOCUMENT_MISSING: {
    title: "The owner was told, but no document is named",
    meaning: "Without the document nobody can look up later what the owner was told.",
    next: "Name the notice that was handed over.",
    severity: "note",
    ...ours,
  },
  OWNER_INFORMED_BEFORE_ALTERATION: {
    title: "Work was done on an array after the owner was told",
    meaning: "The notice the owner holds may describe an alarm that has changed.",
    next: "Go through the notice with the owner again and record it.",
    severity: "caution",
    ...ours,
  },
  OWNER_ANY_FAULT: {
    title: "The owner must know that any inverter fault operates the alarm",
    meaning:
      "A relay and the inverter's light operate for any fault of the inverter, not only for an earth fault.",
    next: "See that the written notice says so.",
    severity: "note",
    ...practice,
  },
  OWNER_PASSWORD_DEFAULT: {
    title: "The inverter still has the maker's installer password",
    meaning: "Anybody who knows the maker's default can change the alarm settings or switch them off.",
    next: "Change it at the next visit and record that it was changed, never the password itself.",
    severity: "caution",
    ...practice,
  },
  OWNER_PASSWORD_UNKNOWN: {
    title: "Nobody recorded whether the installer password was changed",
    meaning:
      "Devices are often left with the maker's default installer password, and with it anybody can switch the alarm off.",
    next: "Check it at handover or at the next visit, and record the answer.",
    severity: "caution",
    ...practice,
  },
} as const satisfies Readonly<Record<`OWNER_${string}`, SiteCodeEntry>>;
