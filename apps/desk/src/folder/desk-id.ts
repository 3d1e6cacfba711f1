import { link, readFile, rm, writeFile } from "node:fs/promises";
import { codeOf, reasonOf } from "./desk-folder.ts";
import { FolderFault } from "./folder-fault.ts";

const ID = /^[0-9a-f]{16}$/u;

/**
 * What this desk is called among desks: made once by chance for its folder, and the same after every start. A folder that was
 * copied to run a second desk from has to lose the file first.
 *
 * @param make  16 hexadecimal digits by chance
 * @throws FolderFault DESK_FOLDER_UNUSABLE
 */
export async function deskId(file: string, make: () => string): Promise<string> {
  const id = make();
  const part = `${file}.${id}.part`;
  try {
    // Whole or not at all: half a name, left by a loss of power, would keep the desk from ever starting again.
    await writeFile(part, `${id}\n`, { mode: 0o640, flush: true });
    await link(part, file);
    return id;
  } catch (error) {
    if (codeOf(error) !== "EEXIST")
      throw new FolderFault("DESK_FOLDER_UNUSABLE", `${file}: ${reasonOf(error)}.`);
  } finally {
    await rm(part, { force: true });
  }
  const known = (await readFile(file, "utf8").catch(() => "")).trim();
  if (ID.test(known)) return known;
  throw new FolderFault("DESK_FOLDER_UNUSABLE", `${file} does not hold 16 hexadecimal digits. Remove it.`);
}
