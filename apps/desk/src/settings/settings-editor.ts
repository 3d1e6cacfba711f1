import {
  deskSections,
  type DeskSettings,
  type EditableSection,
  editDeskText,
  type InputFault,
  readDesk,
  type SectionWanted,
  type WatchLimits,
} from "@earthbell/model";
import { FolderFault } from "../folder/folder-fault.ts";
import { secretProblem } from "./secret-rules.ts";
import type { SettingsFile } from "./settings-file.ts";

/** The settings of a running desk, which may be changed section by section. */
export interface SettingsEditor {
  readonly view: () => Promise<EditorView>;
  readonly put: (change: SectionChange) => Promise<PutSection>;
  /** @returns how the settings name it */
  readonly keepSecret: (of: string, secret: string) => Promise<string>;
  /** What is in force now. */
  readonly settings: () => DeskSettings;
  readonly limits: () => WatchLimits;
}

export interface EditorView {
  /** SHA-256 of the file as it is now. */
  readonly digest: string;
  /** As the file writes them; secrets only by the places that they are read from. */
  readonly sections: Readonly<Partial<Record<EditableSection, unknown>>>;
  /** Changed since the start, and in force only after the next one. */
  readonly waiting: readonly EditableSection[];
}

export interface SectionChange {
  readonly section: EditableSection;
  readonly wanted: SectionWanted;
  /** Digest of the file that the change was made from. */
  readonly from: string;
  readonly by: string;
}

export type PutSection =
  /** now: in force; later: from the next start on. */
  | { readonly ok: true; readonly inForce: "now" | "later" }
  | {
      readonly ok: false;
      readonly code: "SETTINGS_CHANGED" | "SETTINGS_NOT_EDITABLE" | "SETTINGS_CHANNEL_UNUSABLE";
      readonly text: string;
    }
  | { readonly ok: false; readonly code: "faults"; readonly faults: readonly InputFault[] };

/** What takes new settings up while the desk runs. */
export interface Applying {
  /** @throws FolderFault or RangeError for what cannot be set up; nothing has changed then */
  readonly prepare: (settings: DeskSettings) => Prepared;
}

export interface Prepared {
  /** Makes what can be in force without a new start be in force. @returns whether that is all of the section */
  readonly apply: (section: EditableSection, by: string) => Promise<boolean>;
}

interface EditorStart {
  readonly file: SettingsFile;
  readonly settings: DeskSettings;
  readonly limitsOf: (settings: DeskSettings) => WatchLimits;
  readonly applying: Applying;
}

export function createSettingsEditor({ file, settings, limitsOf, applying }: EditorStart): SettingsEditor {
  let now = settings;
  let limits = limitsOf(settings);
  const waiting = new Set<EditableSection>();
  let last: Promise<unknown> = Promise.resolve();

  const put = async (change: SectionChange): Promise<PutSection> => {
    const { section, by } = change;
    const checked = await check(change, file, applying);
    if (!checked.ok) return checked;
    await file.write(checked.text);
    now = withSection(now, section, checked.settings);
    limits = limitsOf(now);
    // What cannot be taken up now, also for a fault on the way, is in force from the next start on.
    waiting.add(section);
    const all = await checked.prepared.apply(section, by);
    if (all) waiting.delete(section);
    return { ok: true, inForce: all ? "now" : "later" };
  };

  return {
    view: async () => {
      const { text, digest } = await file.read();
      return { digest, sections: deskSections(text), waiting: [...waiting] };
    },
    // One change after another: each is made from the file that the one before left.
    put: (change) => {
      const mine = last.then(() => put(change));
      last = mine.catch(() => undefined);
      return mine;
    },
    keepSecret: file.keepSecret,
    settings: () => now,
    limits: () => limits,
  };
}

interface CheckedChange {
  readonly ok: true;
  readonly text: string;
  readonly settings: DeskSettings;
  readonly prepared: Prepared;
}

/** Everything that can be wrong with a change, before anything is written. */
async function check(
  { section, wanted, from }: SectionChange,
  file: SettingsFile,
  applying: Applying,
): Promise<CheckedChange | Extract<PutSection, { readonly ok: false }>> {
  const { text, digest } = await file.read();
  if (digest !== from)
    return {
      ok: false,
      code: "SETTINGS_CHANGED",
      text: "The settings were changed by somebody else meanwhile.",
    };
  const edited = editDeskText(text, section, wanted);
  if (edited === null)
    return {
      ok: false,
      code: "SETTINGS_NOT_EDITABLE",
      text: `${section} cannot be changed here: its text cannot be read, or the file is not written one section after another.`,
    };
  const problem = secretProblem(deskSections(text)[section], deskSections(edited)[section]);
  if (problem !== null) return { ok: false, code: "SETTINGS_CHANNEL_UNUSABLE", text: problem };
  const read = readDesk(edited, file.name);
  if (!read.ok) return { ok: false, code: "faults", faults: read.faults };
  const prepared = preparedBy(applying, read.record);
  if (typeof prepared === "string") return { ok: false, code: "SETTINGS_CHANNEL_UNUSABLE", text: prepared };
  return { ok: true, text: edited, settings: read.record, prepared };
}

/** The settings in force with one section from others; what else stands in the file waits for a start. */
function withSection(now: DeskSettings, section: EditableSection, from: DeskSettings): DeskSettings {
  const { [section]: _, ...others } = now;
  return from[section] === undefined ? others : { ...others, [section]: from[section] };
}

/** @returns why they cannot be set up, in words, or how they are taken up */
function preparedBy(applying: Applying, settings: DeskSettings): Prepared | string {
  try {
    return applying.prepare(settings);
  } catch (error) {
    if (error instanceof FolderFault) return `${error.message} ${error.code}`;
    if (error instanceof RangeError || error instanceof SyntaxError) return error.message;
    throw error;
  }
}
