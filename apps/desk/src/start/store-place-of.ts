import { resolve } from "node:path";
import type { DeskSettings } from "@earthbell/model";
import { deskFolder } from "../folder/desk-folder.ts";
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
