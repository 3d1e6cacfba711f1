import { readFile } from "node:fs/promises";
import { basename, extname } from "node:path";
import type { InputFault } from "@earthbell/model";
import { type DeskFolder, filesIn } from "../folder/desk-folder.ts";
import { readMapping } from "../listen/table/table-readings.ts";
import type { DeskStore } from "../store/index.ts";

/** A mapping of the desk's folder, sound and as it is written. */
interface FiledMapping {
  readonly name: string;
  readonly text: string;
}

type Mappings =
  | { readonly ok: true; readonly mappings: readonly FiledMapping[] }
  | { readonly ok: false; readonly faults: readonly InputFault[] };

/** The mappings of the folder, each under the name of its file; every fault of all of them at once. */
export async function mappingsOf({ mappingsFolder }: DeskFolder): Promise<Mappings> {
  const files = await filesIn(mappingsFolder, [".yaml", ".yml", ".json"]);
  const read = await Promise.all(
    files.map(async (file) => {
      const text = await readFile(file, "utf8");
      return { name: basename(file, extname(file)), text, read: readMapping(text, file) };
    }),
  );
  const faults = read.flatMap((one) => (one.read.ok ? [] : one.read.faults));
  return faults.length > 0 ? { ok: false, faults } : { ok: true, mappings: read };
}

/** Saves what has changed; a mapping that was put in by a person under another name stays. */
export async function saveMappings(
  store: DeskStore,
  mappings: readonly FiledMapping[],
  now: number,
): Promise<void> {
  await store.amend(async (tx) => {
    for (const { name, text } of mappings) {
      const row = { mapping_json: text, put_at: now, put_by: "the desk's folder" };
      await tx
        .insertInto("column_mapping")
        .values({ name, ...row })
        .onConflict((conflict) => conflict.column("name").doUpdateSet(row))
        .execute();
    }
  });
}
