import { readFile, writeFile } from "node:fs/promises";
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
  try {
    const id = make();
    await writeFile(file, `${id}\n`, { flag: "wx", mode: 0o640 });
    return id;
  } catch (error) {
    if (codeOf(error) !== "EEXIST")
      throw new FolderFault("DESK_FOLDER_UNUSABLE", `${file}: ${reasonOf(error)}.`);
  }
  const known = (await readFile(file, "utf8").catch(() => "")).trim();
  if (ID.test(known)) return known;
  throw new FolderFault("DESK_FOLDER_UNUSABLE", `${file} does not hold 16 hexadecimal digits. Remove it.`);
}
