/** Everything that the desk keeps, on SQLite or PostgreSQL. */
export type { Asking, Writing } from "./asking.ts";
export type { DeskStore, StorePlace } from "./desk-store.ts";
export { openStore } from "./open-store.ts";
export { StoreError } from "./store-error.ts";
export type { StoreTrouble } from "./store-trouble.ts";
export { appendJournal, brokenJournalAt, type Happening, journalAfter, journalBefore } from "./journal.ts";
export type * from "./tables.ts";
