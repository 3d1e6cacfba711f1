import { type HeldSheet, SETTING_CAUTIONS } from "@earthbell/model";
import { cautionBoxOf } from "../../content/caution-box.ts";
import type { Block, Table } from "../../content/paper.ts";
import { dayWords, type Language } from "../../language/language.ts";
import { settingSteps } from "../setting-sheet/setting-steps.ts";
import { sheetName, type Ticked, type TickedSheet } from "./ticked-sheets.ts";

/**
 * The setting sheets that were ticked, bound into the record: which sheet, by number, revision and digest, and each step with
 * its tick. By hand: the steps with boxes, or a line to name the sheets on where none was given.
 */
export function settingBlocks(
  settings: readonly TickedSheet[],
  byHand: boolean,
  language: Language,
): readonly Block[] {
  if (settings.length === 0 && !byHand) return [];
  const heading: Block = { kind: "heading", level: 1, text: "Setting sheets" };
  if (settings.length === 0)
    return [heading, { kind: "fields", rows: [{ label: "Sheets ticked, by number and revision" }] }];
  return [heading, ...settings.flatMap((one) => sheetBlocks(one, byHand, language))];
}

function sheetBlocks(one: TickedSheet, byHand: boolean, language: Language): readonly Block[] {
  const { ticked, same } = one;
  const name = sheetName(ticked);
  return [
    { kind: "heading", level: 2, text: `${name.charAt(0).toUpperCase()}${name.slice(1)}` },
    { kind: "fields", rows: whichSheet(one, byHand) },
    ...standing(one, language),
    ...openCautions(one, byHand),
    ...(byHand && same !== null
      ? [...settingSteps(same.sheet), { kind: "signatures", roles: ["Set by"] } as const]
      : [stepTable(ticked, same)]),
  ];
}

function whichSheet({ ticked, same }: TickedSheet, byHand: boolean) {
  const { sheet, title, revision, digest, device, firmware } = ticked;
  const number =
    revision === undefined ? `${sheet}, not issued` : `setting-sheet ${sheet}, revision ${revision}`;
  const written = same?.sheet.device.firmware;
  return [
    { label: "Sheet", value: number },
    { label: "For", value: title },
    { label: "Digest of what it held", value: digest },
    ...(device === undefined && !byHand ? [] : [field("Device", device)]),
    ...(written === undefined ? [] : [field("Firmware it was written for", written)]),
    ...(firmware === undefined && !byHand ? [] : [field("Firmware found", firmware)]),
  ];
}

function field(label: string, value: string | undefined) {
  return value === undefined ? { label } : { label, value };
}

/** Whether the words below are those of the sheet, as far as that can be known here. */
function standing({ ticked, same, changed }: TickedSheet, language: Language): readonly Block[] {
  if (changed !== null) {
    const now = changed.revision === null ? "The sheet at hand" : `Revision ${changed.revision}`;
    const text = `The sheet has changed since it was ticked. ${now} holds other words, under the digest ${changed.digest}. What stands below is what was ticked.`;
    return [{ kind: "paragraph", weight: "lead", text }];
  }
  if (same === null)
    return [
      {
        kind: "paragraph",
        text: "The sheet was not at hand when this record was made. Its steps stand below as whoever ticked them wrote them down, and were not compared with it.",
      },
    ];
  const { by, reviewedOn, device } = same.sheet;
  const other =
    ticked.firmware === undefined || device.firmware === undefined || ticked.firmware === device.firmware
      ? ""
      : " The firmware found is another than the one that the sheet was written for.";
  const text = `Written by ${by}, last read on ${dayWords(reviewedOn, language)}. The maker's instructions come first.${other}`;
  return [{ kind: "paragraph", text }];
}

/** What has to be read before a step that somebody may still do. */
function openCautions({ ticked, same }: TickedSheet, byHand: boolean): readonly Block[] {
  const open = ticked.steps.filter(({ done }) => done !== true);
  if (open.length === 0) return [];
  const own = same?.sheet.cautions ?? [];
  const before = byHand
    ? []
    : open.flatMap(({ step }) => {
        const caution = same?.sheet.steps[step - 1]?.caution;
        return caution === undefined ? [] : [`Before step ${step}: ${caution}`];
      });
  const title = byHand ? "Before you open the device" : "Before a step that is still open";
  return [cautionBoxOf(SETTING_CAUTIONS, title, [...own, ...before])];
}

function stepTable({ steps }: Ticked, same: HeldSheet | null): Table {
  return {
    kind: "table",
    caption: "",
    columns: [
      { head: "Step", share: 0.07 },
      { head: "What to do", share: 0.37 },
      { head: "Found or set", share: 0.15 },
      { head: "Ticked", share: 0.13 },
      { head: "By whom and when, or why not", share: 0.28 },
    ],
    rows: steps.map((one) => [
      String(one.step),
      `${one.do}${fromSheet(one.step, same)}`,
      one.found ?? "",
      one.done === true ? "● ticked" : one.done === false ? "▲ not done" : "◆ not ticked",
      tickedBy(one),
    ]),
  };
}

/** What the sheet wants set, and where that comes from. */
function fromSheet(step: number, same: HeldSheet | null): string {
  const words = same?.sheet.steps[step - 1];
  if (words === undefined) return "";
  const { value, source, tag } = words;
  return `${value === undefined ? "" : ` Set to: ${value}.`} (${source}; ${tag})`;
}

function tickedBy({ done, by, on, at, because }: Ticked["steps"][number]): string {
  if (done === undefined) return "nobody has ticked it, and no reason is recorded";
  const who = [by, on, at].filter((one) => one !== undefined).join(", ");
  return done ? who : `${because!}${who === "" ? "" : ` (${who})`}`;
}
