import { chmod, copyFile, mkdir, open, readdir, readlink, rename, rm, stat, symlink } from "node:fs/promises";
import { basename, join, relative, resolve, sep } from "node:path";
import { type DeskStore, openStore } from "../store/index.ts";
import { codeOf, deskFolder, reasonOf } from "./desk-folder.ts";
import { FolderFault } from "./folder-fault.ts";
import { makeFolders } from "./make-folders.ts";

/** Name of the store in a copy, wherever the settings have it. */
const STORE = "desk.db";

/**
 * A copy of a desk's whole folder; the desk may run meanwhile. The store is copied first, right as of one instant: whatever it
 * knows of lies in the folder by then, and what comes later does no harm. Modes of files are kept, since secrets are among them.
 *
 * @param storeFile  where the store that runs lies
 * @throws FolderFault DESK_COPY_EXISTS | DESK_COPY_INSIDE | DESK_FOLDER_UNUSABLE, StoreError; then nothing is left of the copy
 */
export async function copyOut(
  store: DeskStore,
  from: { readonly folder: string; readonly storeFile: string },
  toFolder: string,
): Promise<{ readonly files: number }> {
  if (await exists(toFolder)) throw new FolderFault("DESK_COPY_EXISTS", `${toFolder} exists.`);
  if (isInside(toFolder, from.folder))
    throw new FolderFault("DESK_COPY_INSIDE", `${toFolder} lies inside ${from.folder}.`);
  const part = `${toFolder}.part`;
  try {
    await rm(part, { recursive: true, force: true });
    await makeFolders(part, 0o700);
    await store.backup(join(part, STORE));
    await chmod(join(part, STORE), 0o600);
    const files = await copyTree(from.folder, part, (path) => isOfTheMoment(path, from));
    await rename(part, toFolder);
    return { files };
  } catch (error) {
    // What could not be made cannot be removed either; the reason that counts is the first.
    await rm(part, { recursive: true, force: true }).catch(() => undefined);
    throw codeOf(error) === undefined || error instanceof FolderFault || isStoreError(error)
      ? error
      : new FolderFault("DESK_FOLDER_UNUSABLE", `${toFolder}: ${reasonOf(error)}.`);
  }
}

/** What belongs to the desk that runs, and what is not whole yet. */
function isOfTheMoment(
  path: string,
  { folder, storeFile }: { readonly folder: string; readonly storeFile: string },
): boolean {
  const own = [storeFile, join(folder, STORE)].flatMap((file) => [file, `${file}-wal`, `${file}-shm`]);
  const { lockFile } = deskFolder(folder);
  const left = [...own, lockFile, join(folder, "beat")].map((file) => resolve(file));
  return path.endsWith(".part") || left.includes(resolve(path));
}

/**
 * Lays a copy into a folder that is missing or empty, after looking whether its store is sound.
 *
 * @param storeFileOf  where the settings in a folder want the store
 * @throws FolderFault DESK_FOLDER_NOT_EMPTY | DESK_COPY_UNSOUND | DESK_FOLDER_UNUSABLE; then nothing is left in the folder
 */
export async function takeBack(
  copy: string,
  folder: string,
  storeFileOf: (folder: string) => Promise<string>,
): Promise<{ readonly files: number }> {
  const found = await readdir(folder).catch((error: unknown) => missing(folder, error));
  if (found !== null && found.length > 0)
    throw new FolderFault("DESK_FOLDER_NOT_EMPTY", `${folder} holds ${found[0]!}.`);
  try {
    await makeFolders(folder, 0o700);
    const part = join(folder, `${STORE}.part`);
    await layStore(join(copy, STORE), part);
    const files = await copyTree(copy, folder, (path) => path === join(copy, STORE));
    const storeFile = await storeFileOf(folder);
    if (await exists(storeFile)) throw new FolderFault("DESK_FOLDER_NOT_EMPTY", `${storeFile} exists.`);
    await rename(part, storeFile);
    return { files };
  } catch (error) {
    for (const name of await readdir(folder).catch(() => []))
      await rm(join(folder, name), { recursive: true, force: true });
    throw error instanceof FolderFault || codeOf(error) === undefined
      ? error
      : new FolderFault("DESK_FOLDER_UNUSABLE", `${folder}: ${reasonOf(error)}.`);
  }
}

function missing(folder: string, error: unknown): null {
  if (codeOf(error) === "ENOENT") return null;
  throw new FolderFault("DESK_FOLDER_UNUSABLE", `${folder}: ${reasonOf(error)}.`);
}

async function layStore(from: string, to: string): Promise<void> {
  try {
    await copyFile(from, to);
    await checkCopy(to);
  } catch (error) {
    throw error instanceof FolderFault
      ? error
      : new FolderFault("DESK_COPY_UNSOUND", `${from}: ${reasonOf(error)}.`);
  }
}

/** Opens the copy as a store, which brings its tables up to date, and looks whether it holds together. */
async function checkCopy(file: string): Promise<void> {
  const store = await openStore({ kind: "sqlite", file });
  try {
    const { sound, problems } = await store.checkSound();
    if (!sound) throw new FolderFault("DESK_COPY_UNSOUND", problems.join(" "));
  } finally {
    await store.close();
  }
}

/** Copies files, folders and links with their modes, durably. @returns the number of files */
async function copyTree(from: string, to: string, isLeftOut: (path: string) => boolean): Promise<number> {
  let count = 0;
  for (const entry of await readdir(from, { withFileTypes: true })) {
    const [source, target] = [join(from, entry.name), join(to, entry.name)];
    if (isLeftOut(source)) continue;
    try {
      if (entry.isDirectory()) {
        await mkdir(target, { mode: 0o700 });
        count += await copyTree(source, target, isLeftOut);
      } else if (entry.isSymbolicLink()) await symlink(await readlink(source), target);
      else if (entry.isFile()) {
        await copyDurably(source, target);
        count += 1;
      }
    } catch (error) {
      // What the desk moved away meanwhile, a table that was taken from a folder say, is not part of the copy.
      if (codeOf(error) !== "ENOENT" || (await exists(source))) throw error;
    }
  }
  await chmod(to, (await stat(from)).mode & 0o777);
  return count;
}

async function copyDurably(from: string, to: string): Promise<void> {
  await copyFile(from, to);
  const file = await open(to, "r");
  try {
    await file.sync();
  } finally {
    await file.close();
  }
  await chmod(to, (await stat(from)).mode & 0o777);
}

function isInside(path: string, folder: string): boolean {
  const way = relative(resolve(folder), resolve(path));
  return way !== ".." && !way.startsWith(`..${sep}`) && basename(way) !== "";
}

function isStoreError(error: unknown): boolean {
  return codeOf(error)?.startsWith("STORE_") ?? false;
}

async function exists(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  );
}
