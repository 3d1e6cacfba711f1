import type { SettingSheet } from "@earthbell/model";
import type { Block } from "../../content/paper.ts";

/** The steps of a sheet, each with a box to tick and its caution before it. */
export function settingSteps({ steps }: SettingSheet): readonly Block[] {
  return steps.flatMap(stepBlocks);
}

function stepBlocks(step: SettingSheet["steps"][number], index: number): readonly Block[] {
  const { do: text, shows, value, why, caution, source, tag } = step;
  const notes = [
    ...(shows === undefined ? [] : [`Shows: ${shows}.`]),
    ...(value === undefined ? [] : [`Set to: ${value}.`]),
    ...(why === undefined ? [] : [`Why: ${why}.`]),
    `From: ${source} (${tag}).`,
  ];
  return [
    ...(caution === undefined
      ? []
      : [{ kind: "cautions", title: `Before step ${index + 1}`, items: [caution], reviewed: "" } as const]),
    { kind: "checklist", items: [{ text: `${index + 1}. ${text}`, note: notes.join(" ") }] },
    ...(value === undefined
      ? []
      : [{ kind: "fields", rows: [{ label: `Value found and set at step ${index + 1}` }] } as const]),
  ];
}
