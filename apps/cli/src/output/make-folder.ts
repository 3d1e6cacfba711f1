import { mkdir, stat } from "node:fs/promises";
import { dirname } from "node:path";

/**
 * Makes a folder where it is missing, with those above it. One at a time: `recursive` of Node never ends where a system
 * says of a folder in one that is there that it is not there, as Linux does under /proc.
 */
export async function makeFolder(path: string): Promise<void> {
  if (await isFolder(path)) return;
  const above = dirname(path);
  if (above !== path) await makeFolder(above);
  await mkdir(path).catch(async (error: unknown) => {
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
