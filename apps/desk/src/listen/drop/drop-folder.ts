import { createHash } from "node:crypto";
import { lstat, mkdir, readdir, readFile, rename, writeFile } from "node:fs/promises";
import { extname, join } from "node:path";
import { makeFolders } from "../../folder/make-folders.ts";

/** A file that lies in a watched folder, as it was when it was looked at. */
export interface LaidFile {
  readonly name: string;
  readonly path: string;
  readonly bytes: number;
  readonly changedAt: number;
}

/** Where files go that were taken, and those that could not be. */
type Outcome = "taken" | "refused";

/** A watched folder on disk. */
export interface DropFolder {
  /** Plain files that may be complete; what programs write on the way to a name is left out. */
  list(): Promise<readonly LaidFile[]>;
  read(file: LaidFile): Promise<{ readonly bytes: Buffer; readonly digest: string }>;
  /** Moves a file away, beside others of its name that hold something else. @param note  laid beside it, line by line */
  moveTo(outcome: Outcome, file: LaidFile, digest: string, note?: string): Promise<string>;
}

/** Names of files that are being written: hidden, or with an ending that programs use on the way. */
const ON_THE_WAY = /^[.~]|(?:\.(?:part|filepart|tmp|temp|crdownload|swp)|~)$/iu;

export function dropFolder(folder: string): DropFolder {
  return {
    list: async () => {
      await makeFolders(folder);
      const names = await readdir(folder);
      const found = await Promise.all(
        names.filter((name) => !ON_THE_WAY.test(name)).map((name) => laidFile(folder, name)),
      );
      return found.filter((file) => file !== null).sort((a, b) => a.changedAt - b.changedAt);
    },
    read: async ({ path }) => {
      const bytes = await readFile(path);
      return { bytes, digest: createHash("sha256").update(bytes).digest("hex") };
    },
    moveTo: async (outcome, { name, path }, digest, note) => {
      const into = join(folder, outcome);
      await mkdir(into, { recursive: true });
      const ending = extname(name);
      const base = name.slice(0, name.length - ending.length);
      const kept = `${base}.${digest.slice(0, 8)}${ending}`;
      if (note !== undefined) await writeFile(join(into, `${kept}.errors.txt`), note);
      await rename(path, join(into, kept));
      return join(outcome, kept);
    },
  };
}

/** Null for what is no plain file, and for one that is gone again. A link could lead anywhere, and is none. */
async function laidFile(folder: string, name: string): Promise<LaidFile | null> {
  const path = join(folder, name);
  try {
    const stat = await lstat(path);
    return stat.isFile() ? { name, path, bytes: stat.size, changedAt: stat.mtimeMs } : null;
  } catch {
    return null;
  }
}
