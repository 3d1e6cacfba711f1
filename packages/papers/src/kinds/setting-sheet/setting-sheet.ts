import type { SettingSheet } from "@earthbell/model";
import { cautionBoxOf } from "../../content/caution-box.ts";
import type { Block, Paper } from "../../content/paper.ts";
import type { Issue } from "../../identity/issue.ts";
import { dayWords } from "../../language/language.ts";

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
      cautionBoxOf(
        ["licensed-and-local", "light-is-supply", "dc-lives-on", "no-repeated-reset"],
        "Before you open the device",
        sheet.cautions,
      ),
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
      ...sheet.steps.flatMap(stepBlocks),
      { kind: "signatures", roles: ["Set by", "Checked by"] },
    ],
  };
}

function stepBlocks(step: SettingSheet["steps"][number], index: number): readonly Block[] {
  const { do: text, shows, value, why, caution, source, tag } = step;
  const notes = [
    ...(shows === undefined ? [] : [`Shows: ${shows}.`]),
    ...(value === undefined ? [] : [`Set to: ${value}.`]),
    ...(why === undefined ? [] : [`Why: ${why}.`]),
    `${source}; ${tag}.`,
  ];
  return [
    ...(caution === undefined
      ? []
      : [{ kind: "cautions", title: `Before step ${index + 1}`, items: [caution], reviewed: "" } as const]),
    { kind: "checklist", items: [{ text: `${index + 1}. ${text}`, note: notes.join(" ") }] },
    ...(value === undefined ? [] : [{ kind: "fields", rows: [{ label: "Value found and set" }] } as const]),
  ];
}
