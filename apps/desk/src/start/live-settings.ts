import { join } from "node:path";
import type { DeskSettings, EditableSection, WatchLimits } from "@earthbell/model";
import type { Clock } from "../clock.ts";
import type { Secrets } from "../folder/secrets.ts";
import type { Log } from "../log.ts";
import { assessAnew } from "../rules/assess-anew.ts";
import { createSettingsEditor, type Prepared, type SettingsEditor } from "../settings/settings-editor.ts";
import { settingsFileAt } from "../settings/settings-file.ts";
import type { DeskStore } from "../store/index.ts";
import type { LiveChannel } from "../tell/live-channel.ts";
import type { Watch } from "../watch/index.ts";
import { brokersOf } from "./brokers-of.ts";
import { channelsOf, longestAttemptMs } from "./channels-of.ts";

interface LiveStart {
  readonly settings: DeskSettings;
  readonly settingsFile: string | null;
  readonly folder: string;
  readonly secrets: Secrets;
  readonly clock: Clock;
  readonly log: Log;
}

interface Running {
  readonly channels: readonly LiveChannel[];
  /** The watch, once it runs. */
  readonly watch: () => Watch;
  readonly store: DeskStore;
  readonly limitsOf: (settings: DeskSettings) => WatchLimits;
}

/** The settings of a running desk. */
export interface LiveSettings {
  /** Changes them; null where the desk runs from no file. */
  readonly editor: SettingsEditor | null;
  /** Those in force now. */
  readonly limits: () => WatchLimits;
}

export function liveSettings(start: LiveStart, running: Running): LiveSettings {
  const editor = editorOf(start, running);
  const atStart = running.limitsOf(start.settings);
  return { editor, limits: () => editor?.limits() ?? atStart };
}

function editorOf(start: LiveStart, running: Running): SettingsEditor | null {
  if (start.settingsFile === null) return null;
  let before = start.settings;
  return createSettingsEditor({
    file: settingsFileAt(join(start.folder, start.settingsFile)),
    settings: start.settings,
    limitsOf: running.limitsOf,
    applying: {
      prepare: (settings) => {
        const prepared = prepare(start, running, { settings, before });
        return {
          apply: async (section, by) => {
            const done = await prepared.apply(section, by);
            before = settings;
            return done;
          },
        };
      },
    },
  });
}

interface Change {
  readonly settings: DeskSettings;
  readonly before: DeskSettings;
}

/** @throws FolderFault DESK_SECRET_MISSING | DESK_FOLDER_UNUSABLE; RangeError for a template that cannot be filled */
function prepare(start: LiveStart, running: Running, { settings, before }: Change): Prepared {
  // The secrets of brokers are read to see that they can be; they are connected at the next start.
  brokersOf(settings, { ...start, deskId: "checked" });
  const { beacons: _, ...told } = settings;
  const next = channelsOf({ ...start, settings: told, brokers: [] });
  return {
    apply: async (section, by) => {
      const taken = next.find(({ kind }) => kind === section);
      await Promise.all(next.filter((one) => one !== taken).map((one) => one.close()));
      if (isChannel(section)) {
        const live = running.channels.find(({ kind }) => kind === section);
        if (taken === undefined || live === undefined) return taken === live;
        await live.become(taken);
        return longestAttemptMs(settings) <= longestAttemptMs(start.settings);
      }
      if (section === "ladders") return putLadders(start, running.watch(), { settings, before }, by);
      if (section !== "limits" && section !== "drills") return false;
      await assessAnew({ store: running.store, watch: running.watch(), log: start.log }, by);
      // A first plan of drills is made at the start only.
      return section === "limits" || start.settings.drills !== undefined;
    },
  };
}

function isChannel(section: EditableSection): section is "email" | "webhook" | "sms" {
  return section === "email" || section === "webhook" || section === "sms";
}

/** @returns whether every ladder was taken; what was not is in the log, as at a start */
async function putLadders(
  { log }: LiveStart,
  watch: Watch,
  { settings: { ladders = [] }, before }: Change,
  by: string,
): Promise<boolean> {
  const gone = (before.ladders ?? []).filter(
    ({ site, path }) => !ladders.some((one) => one.site === site && one.path === path),
  );
  let all = true;
  for (const { site, path, rungs } of [...ladders, ...gone.map((one) => ({ ...one, rungs: [] }))]) {
    const steps = rungs.map(({ after, ...rung }) => ({ afterMin: after, ...rung }));
    const put = await watch.putLadder(site, path, steps, by);
    if (put.ok) continue;
    all = false;
    log.error({ site, path, code: put.refusal.code }, `a ladder was not taken: ${put.refusal.text}`);
  }
  return all;
}
