import type { Tag } from "@earthbell/engine";

/** The settings in force, as the desk tells them. */
export interface SettingsWhole {
  /** Name of their file; null where a program gave them. */
  readonly file: string | null;
  readonly channels: readonly ChannelLine[];
  readonly beacons: readonly { readonly id: string; readonly broker: string; readonly topic: string }[];
  readonly stated: readonly { readonly field: string; readonly value: string }[];
  readonly limits: readonly {
    readonly name: string;
    readonly value: number;
    readonly unit: string;
    readonly source: string;
    readonly tag: Tag;
  }[];
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
