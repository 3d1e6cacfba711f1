import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { mkdir, open, rename, rm } from "node:fs/promises";
import { basename, join } from "node:path";

/** A text that is written beside the site file and not in its place yet. */
export interface PreparedFile {
  /** Puts it in place: whole, or not at all. */
  readonly commit: () => Promise<void>;
  readonly drop: () => Promise<void>;
}

/** The site files of a desk that runs from a folder: what is changed at the desk is changed there too, or the next start would undo it. */
export interface SiteFiles {
  /** Says which file of the folder a site is in. */
  readonly note: (site: string, file: string) => void;
  readonly prepare: (site: string, text: string) => Promise<PreparedFile>;
  /** Lays the file of a site aside, so that it is not put in again. */
  readonly layAside: (site: string) => Promise<void>;
}

export function siteFilesIn(folder: string): SiteFiles {
  const known = new Map<string, string>();
  return {
    note: (site, file) => {
      known.set(site, file);
    },
    prepare: async (site, text) => {
      await mkdir(folder, { recursive: true });
      const file = known.get(site) ?? freeName(folder, site);
      const draft = `${file}.part`;
      const handle = await open(draft, "w");
      try {
        await handle.writeFile(text);
        // A name that stands before its text does would be an empty file after a loss of power.
        await handle.sync();
      } finally {
        await handle.close();
      }
      return {
        commit: async () => {
          await rename(draft, file);
          known.set(site, file);
        },
        drop: () => rm(draft, { force: true }),
      };
    },
    layAside: async (site) => {
      const file = known.get(site);
      if (file === undefined) return;
      await rename(file, join(folder, `${basename(file)}.removed`));
      known.delete(site);
    },
  };
}

/** A name of letters, digits, points, hyphens and underscores that no other file has. */
function freeName(folder: string, site: string): string {
  const plain = site.replace(/[^\w.-]+/gu, "-").replace(/^\.+/u, "");
  const digest = createHash("sha256").update(site).digest("hex").slice(0, 8);
  const name = plain === site ? site : `${plain}-${digest}`;
  const file = join(folder, `${name}.yaml`);
  return existsSync(file) ? join(folder, `${name}-${digest}.yaml`) : file;
}
