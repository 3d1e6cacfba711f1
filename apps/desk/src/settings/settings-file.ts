import { createHash, randomBytes } from "node:crypto";
import { mkdir, open, readFile, rename } from "node:fs/promises";
import { basename, dirname, join } from "node:path";

/** The file of the settings, read and replaced whole. */
export interface SettingsFile {
  readonly name: string;
  readonly read: () => Promise<{ readonly text: string; readonly digest: string }>;
  /** Puts another text in its place: whole, or not at all. */
  readonly write: (text: string) => Promise<void>;
  /** Keeps a secret in a file of its own that only the desk reads; answers what the settings call it. */
  readonly keepSecret: (of: string, secret: string) => Promise<string>;
}

export function settingsFileAt(path: string): SettingsFile {
  return {
    name: basename(path),
    read: async () => {
      const text = await readFile(path, "utf8");
      return { text, digest: digestOf(text) };
    },
    write: (text) => writeWhole(path, text, 0o640),
    keepSecret: async (of, secret) => {
      await mkdir(join(dirname(path), "secrets"), { recursive: true, mode: 0o750 });
      // Another name each time: the settings that are in force keep theirs until the new ones stand.
      const name = `secrets/${of}-${randomBytes(4).toString("hex")}`;
      await writeWhole(join(dirname(path), name), `${secret}\n`, 0o600);
      return name;
    },
  };
}

function digestOf(text: string): string {
  return createHash("sha256").update(text).digest("hex");
}

async function writeWhole(path: string, text: string, mode: number): Promise<void> {
  const draft = `${path}.part`;
  const handle = await open(draft, "w", mode);
  try {
    await handle.writeFile(text);
    // A name that stands before its text does would be an empty file after a loss of power.
    await handle.sync();
  } finally {
    await handle.close();
  }
  await rename(draft, path);
}
