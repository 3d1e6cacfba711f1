import { mkdir, stat } from "node:fs/promises";
import { dirname } from "node:path";

/**
 * Makes a folder where it is missing, with those above it. One at a time: `recursive` of Node never ends where a system
 * says of a folder in one that is there that it is not there, as Linux does under /proc.
 *
 * @param mode  of each folder that is made
 */
export async function makeFolders(path: string, mode = 0o777): Promise<void> {
  if (await isFolder(path)) return;
  const above = dirname(path);
  if (above !== path) await makeFolders(above, mode);
  await mkdir(path, { mode }).catch(async (error: unknown) => {
    // Somebody else may have made it meanwhile.
    if (!(await isFolder(path))) throw error;
  });
}

function isFolder(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isDirectory(),
    () => false,
  );
}
