import { Kysely, PostgresDialect } from "kysely";
import pg from "pg";
import type { DeskTables } from "./tables.ts";

/** int8: instants and counts, all of which a double holds exactly. */
const INT8 = pg.types.builtins.INT8;

export function openPostgres(url: string, maxConnections = 8): Kysely<DeskTables> {
  const pool = new pg.Pool({
    connectionString: url,
    max: maxConnections,
    types: {
      getTypeParser: ((type: typeof INT8, format?: "text") =>
        type === INT8
          ? Number
          : (pg.types.getTypeParser(type, format) as unknown)) as typeof pg.types.getTypeParser,
    },
  });
  // An idle connection that the server ends is replaced by the pool at the next question; unheard, it would end the desk.
  pool.on("error", () => undefined);
  return new Kysely<DeskTables>({ dialect: new PostgresDialect({ pool }) });
}
