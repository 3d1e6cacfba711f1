import type { HeldSheet, SettingSheet } from "@earthbell/model";
import { canonicalJson, jsonOf } from "../identity/canonical.ts";
import type { Digest } from "../identity/issue.ts";

/** A sheet as it is held, under the digest that its paper states. @param revision  null: it was never issued */
export function heldSheet(sheet: SettingSheet, revision: number | null, digest: Digest): HeldSheet {
  return { sheet, revision, digest: digest(canonicalJson(jsonOf(sheet))) };
}
