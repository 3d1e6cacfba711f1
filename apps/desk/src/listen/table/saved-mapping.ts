import type { Asking } from "../../store/index.ts";
import { type Mapping, readMapping } from "./table-readings.ts";

/** The mapping that was saved under a name; null where there is none. */
export async function savedMapping(db: Asking, name: string): Promise<Mapping | null> {
  const row = await db
    .selectFrom("column_mapping")
    .select("mapping_json")
    .where("name", "=", name)
    .executeTakeFirst();
  const read = row === undefined ? null : readMapping(row.mapping_json, `mapping ${name}`);
  return read?.ok === true ? read.record : null;
}
