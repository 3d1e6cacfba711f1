import { resolve } from "node:path";
import type { DeskSettings } from "@earthbell/model";
import { deskFolder, readSettings } from "../folder/desk-folder.ts";
import { FolderFault } from "../folder/folder-fault.ts";
import type { Secrets } from "../folder/secrets.ts";
import type { StorePlace } from "../store/index.ts";

/** Where the settings want the store; in the desk's folder where they say nothing. */
export function storePlaceOf({
  settings: { database },
  folder,
  secrets,
}: {
  readonly settings: DeskSettings;
  readonly folder: string;
  readonly secrets: Secrets;
}): StorePlace {
  if (database?.kind === "postgresql") return { kind: "postgres", url: secrets(database.url) };
  const file = database?.file;
  return { kind: "sqlite", file: file === undefined ? deskFolder(folder).storeFile : resolve(folder, file) };
}

/**
 * Where the settings in a folder want the file of the store.
 *
 * @throws FolderFault DESK_SETTINGS_MISSING | DESK_COPY_UNSOUND
 */
export async function storeFileIn(folder: string): Promise<string> {
  const read = await readSettings(deskFolder(folder));
  if (!read.ok) throw new FolderFault("DESK_COPY_UNSOUND", "Its desk.yaml has faults.");
  const place = storePlaceOf({ settings: read.settings, folder, secrets: () => "" });
  if (place.kind === "sqlite") return place.file;
  throw new FolderFault("DESK_COPY_UNSOUND", "Its settings keep the store on PostgreSQL.");
}
