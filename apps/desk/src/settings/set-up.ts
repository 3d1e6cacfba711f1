import type { RulePack } from "@earthbell/engine";
import type { DeskSettings, WatchLimits } from "@earthbell/model";
import type { Channel } from "../tell/channel.ts";

/** What the desk was started with, to be looked at and tried out. */
export interface SetUp {
  /** Name of the file of the settings; null where a program gave them. */
  readonly file: string | null;
  readonly settings: DeskSettings;
  readonly limits: WatchLimits;
  readonly channels: readonly Channel[];
}

/** A rule pack of this desk's own. */
export interface OwnPack {
  /** Name of its file in the folder of rules. */
  readonly file: string;
  /** SHA-256 of the file, hexadecimal. */
  readonly digest: string;
  readonly pack: RulePack;
}
