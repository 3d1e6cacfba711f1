import { basename, extname } from "node:path";
import { type HeldSheet, type InputFault, readSettingSheet } from "@earthbell/model";
import { heldSheet, type Source } from "@earthbell/papers";
import type { Call } from "../command.ts";
import { mostBytes } from "../commands/document-work.ts";
import { readWhole, sourceName } from "../input/source.ts";
import { sha256 } from "./sha256.ts";

/** The files that one paper is made from, or why the first of them cannot be read. */
export async function sourcesOf(
  call: Call,
  operands: readonly string[],
): Promise<readonly Source[] | InputFault> {
  const sources: Source[] = [];
  for (const operand of operands) {
    const source = await readSource(operand, call);
    if ("code" in source) return source;
    sources.push(source);
  }
  return sources;
}

export async function readSource(operand: string, { world }: Call): Promise<Source | InputFault> {
  const bytes = await readWhole(operand, { world, most: mostBytes });
  if ("code" in bytes) return bytes;
  const stem = operand === "-" ? "standard-input" : basename(operand, extname(operand));
  return { bytes, file: sourceName(operand), stem };
}

/** The setting sheets of these files, and what is wrong with any of them. */
export async function readSheets(
  files: readonly string[],
  call: Call,
): Promise<{ readonly sheets: readonly HeldSheet[]; readonly faults: readonly InputFault[] }> {
  const sheets: HeldSheet[] = [];
  const faults: InputFault[] = [];
  for (const file of files) {
    const source = await readSource(file, call);
    if ("code" in source) {
      faults.push(source);
      continue;
    }
    const read = readSettingSheet(source.bytes, source.file);
    if (read.ok) sheets.push(heldSheet(read.record, null, sha256));
    else faults.push(...read.faults);
  }
  return { sheets, faults };
}
