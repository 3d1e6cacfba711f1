import { access, copyFile, rename, rm } from "node:fs/promises";
import { type DeskStore, openStore } from "../store/index.ts";
import { reasonOf } from "./desk-folder.ts";
import { FolderFault } from "./folder-fault.ts";

/** A copy of the store in a file, right as of one instant; the desk may run meanwhile. @throws FolderFault DESK_COPY_EXISTS, StoreError */
export async function copyOut(store: DeskStore, toFile: string): Promise<void> {
  if (await exists(toFile)) throw new FolderFault("DESK_COPY_EXISTS", `${toFile} exists.`);
  await store.backup(toFile);
}

/**
 * Puts a copy in the place of the store, which must not run. The store that was there is kept beside it.
 *
 * @returns where the earlier store now lies; null where there was none
 * @throws FolderFault DESK_COPY_UNSOUND, and then nothing has changed
 */
export async function takeBack(copy: string, storeFile: string, now: number): Promise<string | null> {
  const part = `${storeFile}.part`;
  await rm(part, { force: true });
  try {
    await copyFile(copy, part);
    await checkCopy(part);
  } catch (error) {
    for (const end of ["", "-wal", "-shm"]) await rm(`${part}${end}`, { force: true });
    throw error instanceof FolderFault
      ? error
      : new FolderFault("DESK_COPY_UNSOUND", `${copy}: ${reasonOf(error)}.`);
  }
  const aside = (await exists(storeFile)) ? `${storeFile}.before-${String(now)}` : null;
  if (aside !== null) {
    await rename(storeFile, aside);
    for (const end of ["-wal", "-shm"])
      if (await exists(`${storeFile}${end}`)) await rename(`${storeFile}${end}`, `${aside}${end}`);
  }
  await rename(part, storeFile);
  return aside;
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

async function exists(file: string): Promise<boolean> {
  return access(file).then(
    () => true,
    () => false,
  );
}
