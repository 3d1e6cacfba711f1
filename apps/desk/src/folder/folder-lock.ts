import { open, readFile, rm } from "node:fs/promises";
import { codeOf, reasonOf } from "./desk-folder.ts";
import { FolderFault } from "./folder-fault.ts";

/** Held while a desk runs from its folder. */
export interface FolderLock {
  release(): Promise<void>;
}

/**
 * Takes the folder for this process. A mark that a dead process left is seen through.
 *
 * @throws FolderFault DESK_ALREADY_RUNNING | DESK_FOLDER_UNUSABLE
 */
export async function lockFolder(lockFile: string, processId: number): Promise<FolderLock> {
  for (let attempt = 0; attempt < 3; attempt++) {
    try {
      const file = await open(lockFile, "wx", 0o640);
      await file.write(String(processId));
      await file.close();
      return { release: () => rm(lockFile, { force: true }) };
    } catch (error) {
      if (codeOf(error) !== "EEXIST")
        throw new FolderFault("DESK_FOLDER_UNUSABLE", `${lockFile}: ${reasonOf(error)}.`);
    }
    const holder = await holderOf(lockFile);
    if (holder !== null && holder !== processId && isAlive(holder))
      throw new FolderFault(
        "DESK_ALREADY_RUNNING",
        `Process ${String(holder)} runs a desk from this folder.`,
      );
    await rm(lockFile, { force: true });
  }
  throw new FolderFault("DESK_ALREADY_RUNNING", "Another desk is starting from this folder.");
}

async function holderOf(lockFile: string): Promise<number | null> {
  const text = await readFile(lockFile, "utf8").catch(() => "");
  return /^\d{1,10}$/u.test(text) ? Number(text) : null;
}

function isAlive(processId: number): boolean {
  try {
    process.kill(processId, 0);
    return true;
  } catch (error) {
    return codeOf(error) === "EPERM";
  }
}
