import type { Tag } from "@earthbell/engine";

/** The settings in force, as the desk tells them. */
export interface SettingsWhole {
  /** Name of their file; null where a program gave them. */
  readonly file: string | null;
  readonly channels: readonly ChannelLine[];
  readonly beacons: readonly { readonly id: string; readonly broker: string; readonly topic: string }[];
  /** The file as it is now, by sections that can be changed; null where the desk runs from none. */
  readonly edited: EditedSettings | null;
  readonly stated: readonly { readonly field: string; readonly value: string }[];
  readonly limits: readonly {
    readonly name: string;
    readonly value: number;
    readonly unit: string;
    readonly source: string;
    readonly tag: Tag;
  }[];
}

export interface EditedSettings {
  readonly digest: string;
  /** As the file writes them; secrets only by the places that they are read from. */
  readonly sections: Readonly<Record<string, unknown>>;
  /** Changed since the start, and in force only after the next one. */
  readonly waiting: readonly string[];
}

export interface ChannelLine {
  readonly kind: "email" | "webhook" | "sms" | "mqtt";
  /** Laid into a folder instead of being sent. */
  readonly rehearsed: boolean;
  readonly by: string;
}

/** What came of a test, and what was said meanwhile. */
export interface TriedOut {
  readonly outcome: "accepted" | "later" | "refused";
  readonly text: string;
  readonly said: readonly {
    readonly by: "desk" | "other-side" | "note";
    readonly text: string;
  }[];
}
