import type { Kysely, Migration, MigrationProvider } from "kysely";
import { firstTables } from "./migrations/0001-first-tables.ts";
import { personTokens } from "./migrations/0002-person-tokens.ts";
import { accounts } from "./migrations/0003-accounts.ts";
import { beaconsFilesLinks } from "./migrations/0004-beacons-files-links.ts";
import { visits } from "./migrations/0005-visits.ts";
import { ruleOverrides } from "./migrations/0006-rule-overrides.ts";
import { overviewIndexes } from "./migrations/0007-overview-indexes.ts";
import { toldPeople } from "./migrations/0008-told-people.ts";

/** By number. A migration that has been released is never changed: a further one follows it. */
const MIGRATIONS: Readonly<Record<string, (db: Kysely<unknown>) => Promise<void>>> = {
  "0001-first-tables": firstTables,
  "0002-person-tokens": personTokens,
  "0003-accounts": accounts,
  "0004-beacons-files-links": beaconsFilesLinks,
  "0005-visits": visits,
  "0006-rule-overrides": ruleOverrides,
  "0007-overview-indexes": overviewIndexes,
  "0008-told-people": toldPeople,
};

/** Migrations go forward only; the way back is the backup taken before. */
export const migrationsInCode: MigrationProvider = {
  getMigrations: () =>
    Promise.resolve(
      Object.fromEntries(Object.entries(MIGRATIONS).map(([name, up]): [string, Migration] => [name, { up }])),
    ),
};
