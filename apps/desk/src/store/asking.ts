import type { Kysely, Transaction } from "kysely";
import type { DeskTables } from "./tables.ts";

/** A way to ask the store: the store itself, or a transaction of it. */
export type Asking = Kysely<DeskTables>;
export type Writing = Transaction<DeskTables>;
