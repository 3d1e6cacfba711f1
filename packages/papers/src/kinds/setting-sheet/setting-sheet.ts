import { SETTING_CAUTIONS, type SettingSheet } from "@earthbell/model";
import { cautionBoxOf } from "../../content/caution-box.ts";
import type { Paper } from "../../content/paper.ts";
import type { Issue } from "../../identity/issue.ts";
import { dayWords } from "../../language/language.ts";
import { settingSteps } from "./setting-steps.ts";

/** A team's own steps for one family of devices, ticked while it is commissioned; cautions stand before the first one. */
export function settingSheetPaper(sheet: SettingSheet, issue: Issue): Paper {
  const { language } = issue;
  return {
    kind: "setting-sheet",
    language,
    title: "Setting sheet",
    subject: sheet.device.family,
    look: "record",
    issue,
    blocks: [
      cautionBoxOf(SETTING_CAUTIONS, "Before you open the device", sheet.cautions),
      {
        kind: "paragraph",
        text: `Written by ${sheet.by}, last read on ${dayWords(sheet.reviewedOn, language)}. The maker's instructions come first.`,
      },
      {
        kind: "fields",
        rows: [
          { label: "Device family", value: sheet.device.family },
          ...(sheet.device.firmware === undefined
            ? []
            : [{ label: "Firmware it was written for", value: sheet.device.firmware }]),
          { label: "Site and device" },
          { label: "Firmware found" },
        ],
      },
      { kind: "heading", level: 1, text: "Steps" },
      ...settingSteps(sheet),
      { kind: "signatures", roles: ["Set by", "Checked by"] },
    ],
  };
}
