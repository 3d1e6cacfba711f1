import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { basename } from "node:path";
import { type DeskSettings, type InputFault, readRulePack } from "@earthbell/model";
import type { Clock } from "../clock.ts";
import { type DeskFolder, deskFolder, filesIn, makeFolder, readSettings } from "../folder/desk-folder.ts";
import { lockFolder } from "../folder/folder-lock.ts";
import { secretsOf } from "../folder/secrets.ts";
import { type SiteFiles, siteFilesIn } from "../folder/site-files.ts";
import type { Log } from "../log.ts";
import type { PaperTools } from "../papers/paper-office.ts";
import type { OwnPack } from "../settings/set-up.ts";
import type { Watch } from "../watch/index.ts";
import type { DemoDamage } from "../fleet/demo-damage.ts";
import { mappingsOf, saveMappings } from "./put-mappings.ts";
import { type RunningDesk, runDesk } from "./run-desk.ts";

/** What is around a desk that runs from a folder. */
export interface Surroundings {
  readonly environment: Readonly<Record<string, string | undefined>>;
  readonly clock: Clock;
  readonly log: Log;
  readonly random: () => number;
  readonly version: string;
  readonly webFolder?: string;
  /** Makes papers; absent: none are made. */
  readonly paperTools?: PaperTools;
  /** Where the damage of invented arrays is hidden; absent: the arrays are real. */
  readonly demonstrated?: readonly DemoDamage[];
  readonly listenAt?: { readonly host?: string; readonly port?: number };
}

export type Served =
  /** faults: of site files that were left as they were in the store, or out. */
  | { readonly ok: true; readonly desk: RunningDesk; readonly faults: readonly InputFault[] }
  /** faults: of the settings or of a rule pack; nothing runs. */
  | { readonly ok: false; readonly faults: readonly InputFault[] };

const WRITTEN = [".yaml", ".yml", ".json"];

/**
 * Runs the desk of a folder. Site files of the folder are put in where they have changed; one with faults is reported and
 * does not keep the desk from watching the others.
 *
 * @param given  settings to use instead of those in the folder
 * @throws FolderFault, StoreError or RangeError for what keeps it from starting
 */
export async function serveFolder(path: string, around: Surroundings, given?: DeskSettings): Promise<Served> {
  const folder = deskFolder(path);
  await makeFolder(folder);
  const read = given === undefined ? await readSettings(folder) : { ok: true as const, settings: given };
  const packs = await packsOf(folder);
  const mappings = await mappingsOf(folder);
  if (!read.ok || !packs.ok || !mappings.ok) {
    const faults = [read, packs, mappings].flatMap((one) => (one.ok ? [] : one.faults));
    return { ok: false, faults };
  }
  const lock = await lockFolder(folder.lockFile, process.pid);
  try {
    const faults: InputFault[] = [];
    const siteFiles = siteFilesIn(folder.sitesFolder);
    const desk = await runDesk({
      ...around,
      siteFiles,
      settings: read.settings,
      folder: path,
      secrets: secretsOf(path, around.environment),
      packs: packs.packs,
      settingsFile: given === undefined ? basename(folder.settingsFile) : null,
      prepare: async (watch, store) => {
        await saveMappings(store, mappings.mappings, around.clock.now());
        faults.push(...(await putSites({ folder, siteFiles, log: around.log }, watch)));
      },
    });
    const stop = async (): Promise<void> => {
      try {
        await desk.stop();
      } finally {
        await around.paperTools?.close();
        await lock.release();
      }
    };
    return { ok: true, desk: { ...desk, stop }, faults };
  } catch (error) {
    await lock.release();
    throw error;
  }
}

async function packsOf(
  folder: DeskFolder,
): Promise<
  | { readonly ok: true; readonly packs: readonly OwnPack[] }
  | { readonly ok: false; readonly faults: readonly InputFault[] }
> {
  const files = await filesIn(folder.rulesFolder, WRITTEN);
  const read = await Promise.all(
    files.map(async (file) => {
      const bytes = await readFile(file);
      const digest = createHash("sha256").update(bytes).digest("hex");
      return { file: basename(file), digest, read: readRulePack(bytes, file) };
    }),
  );
  const faults = read.flatMap((one) => (one.read.ok ? [] : one.read.faults));
  if (faults.length > 0) return { ok: false, faults };
  return {
    ok: true,
    packs: read.flatMap(({ read: one, ...from }) => (one.ok ? [{ ...from, pack: one.record }] : [])),
  };
}

async function putSites(
  {
    folder,
    siteFiles,
    log,
  }: { readonly folder: DeskFolder; readonly siteFiles: SiteFiles; readonly log: Log },
  watch: Watch,
): Promise<readonly InputFault[]> {
  const faults: InputFault[] = [];
  for (const file of await filesIn(folder.sitesFolder, WRITTEN)) {
    const put = await watch.putSite(await readFile(file, "utf8"), "the desk's folder");
    if (put.ok) {
      siteFiles.note(put.site, file);
      continue;
    }
    faults.push(...put.faults.map((fault) => ({ ...fault, file })));
    log.error({ file, faults: put.faults.length }, "a site file has faults and was not put in");
  }
  return faults;
}
