import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { type DeskSettings, type InputFault, readDesk } from "@earthbell/model";
import { FolderFault } from "./folder-fault.ts";
import { makeFolders } from "./make-folders.ts";

/** Where everything of one desk lies. */
export interface DeskFolder {
  readonly path: string;
  readonly settingsFile: string;
  /** The embedded database, unless the settings say otherwise. */
  readonly storeFile: string;
  /** Site files that are put in when the desk starts, if they have changed. */
  readonly sitesFolder: string;
  /** The user's own rule packs. */
  readonly rulesFolder: string;
  /** Mappings by which tables are read, saved at the start under the names of their files. */
  readonly mappingsFolder: string;
  /** Photos of visits, each under its digest. */
  readonly photosFolder: string;
  /** Papers that were issued, and the records of their issues. */
  readonly papersFolder: string;
  /** Secret of the addresses of calendar feeds. */
  readonly feedKeyFile: string;
  /** Keys by which papers are signed: the private one, and every public one. */
  readonly signingFolder: string;
  readonly lockFile: string;
  /** What this desk is called among desks. */
  readonly idFile: string;
}

export function deskFolder(path: string): DeskFolder {
  return {
    path,
    settingsFile: join(path, "desk.yaml"),
    storeFile: join(path, "desk.db"),
    sitesFolder: join(path, "sites"),
    rulesFolder: join(path, "rules"),
    mappingsFolder: join(path, "mappings"),
    photosFolder: join(path, "photos"),
    papersFolder: join(path, "papers"),
    feedKeyFile: join(path, "calendar.key"),
    signingFolder: join(path, "signing"),
    lockFile: join(path, "desk.lock"),
    idFile: join(path, "desk.id"),
  };
}

/** @throws FolderFault DESK_FOLDER_UNUSABLE */
export async function makeFolder({ path }: DeskFolder): Promise<void> {
  try {
    await makeFolders(path, 0o750);
  } catch (error) {
    throw new FolderFault("DESK_FOLDER_UNUSABLE", `${path}: ${reasonOf(error)}.`);
  }
}

/** @throws FolderFault DESK_SETTINGS_MISSING | DESK_FOLDER_UNUSABLE */
export async function readSettings({
  settingsFile,
}: DeskFolder): Promise<
  | { readonly ok: true; readonly settings: DeskSettings }
  | { readonly ok: false; readonly faults: readonly InputFault[] }
> {
  let text: Buffer;
  try {
    text = await readFile(settingsFile);
  } catch (error) {
    if (codeOf(error) === "ENOENT")
      throw new FolderFault("DESK_SETTINGS_MISSING", `There is no ${settingsFile}.`);
    throw new FolderFault("DESK_FOLDER_UNUSABLE", `${settingsFile}: ${reasonOf(error)}.`);
  }
  const read = readDesk(text, settingsFile);
  return read.ok ? { ok: true, settings: read.record } : read;
}

/** Files of a folder that end as one of these, by name; none where the folder is missing. */
export async function filesIn(folder: string, endings: readonly string[]): Promise<readonly string[]> {
  try {
    const names = await readdir(folder);
    return names
      .filter((name) => endings.some((ending) => name.endsWith(ending)))
      .sort()
      .map((name) => join(folder, name));
  } catch (error) {
    if (codeOf(error) === "ENOENT") return [];
    throw new FolderFault("DESK_FOLDER_UNUSABLE", `${folder}: ${reasonOf(error)}.`);
  }
}

export function codeOf(error: unknown): string | undefined {
  return error instanceof Error && "code" in error ? String(error.code) : undefined;
}

export function reasonOf(error: unknown): string {
  return codeOf(error) ?? (error instanceof Error ? error.message : String(error));
}
