import {
  overridesSetAside,
  packsInForce,
  packsWith,
  type RulePack,
  setAsideWords,
  type ValueOverride,
} from "@earthbell/engine";
import { type InputFault, type ReadResult, readRuleOverrides, readRulePack } from "@earthbell/model";
import type { Option } from "../command-line/option.ts";
import type { Call } from "../command.ts";
import { readWhole, sourceName } from "../input/source.ts";
import { errorRecord, faultsText } from "../views/faults-text.ts";
import { printable } from "../terminal/printable.ts";
import { wrap } from "../terminal/wrap.ts";
import { mostBytes } from "./document-work.ts";

/** The options of every command that goes by rule packs: packs of one's own, and values that a desk overrode. */
export const rulesOptions: readonly Option[] = [
  {
    name: "rules",
    value: "FILE",
    repeatable: true,
    help: "hold this rule pack too; one with a known id replaces it",
  },
  {
    name: "overrides",
    value: "FILE",
    help: "go by these values in place of the packs' own, as a desk hands them out (place Rules)",
  },
];

/** The rule packs to go by, or null after every fault of every file has been told. */
export async function readRules(call: Call): Promise<readonly RulePack[] | null> {
  const own: RulePack[] = [];
  const refused: (readonly InputFault[])[] = [];
  for (const file of call.arguments.values("rules")) {
    const read = await readFile(call, file, (bytes) => readRulePack(bytes, sourceName(file)));
    if (read.ok) own.push(read.record);
    else refused.push(read.faults);
  }
  const overrides = await readOverrides(call, own);
  if (overrides.ok && refused.length === 0) {
    await tellAside(call, own, overrides.record);
    return packsInForce(own, overrides.record);
  }
  if (!overrides.ok) {
    // A pack that could not be read is at fault itself, and not the override that names it.
    const excused = refused.length > 0 ? ["RULES_OVERRIDE_UNKNOWN"] : [];
    refused.push(overrides.faults.filter(({ code }) => !excused.includes(code)));
  }
  for (const faults of refused) await call.complain(faultsText(faults, call.page));
  if (call.arguments.has("json"))
    await call.world.out.write(`${JSON.stringify(errorRecord(refused.flat()), null, 2)}\n`);
  return null;
}

/** Says of each override that it is not gone by, and why; the answer rests on the packs' own values there. */
async function tellAside(
  { arguments: given, complain, page }: Call,
  own: readonly RulePack[],
  overrides: readonly ValueOverride[],
): Promise<void> {
  const file = given.value("overrides") ?? "";
  const aside = overridesSetAside(packsWith(own), overrides);
  const lines = aside.flatMap((one) => {
    const { pack, field } = one.override;
    const words = printable(
      `${sourceName(file)}: ${pack}, ${field}. ${setAsideWords(one)} (RULES_OVERRIDE_STALE)`,
    );
    return wrap(words, page.width);
  });
  if (lines.length > 0) await complain(lines);
}

async function readOverrides(
  call: Call,
  own: readonly RulePack[],
): Promise<ReadResult<readonly ValueOverride[]>> {
  const file = call.arguments.value("overrides");
  if (file === undefined) return { ok: true, record: [], warnings: [] };
  return await readFile(call, file, (bytes) => readRuleOverrides(bytes, sourceName(file), packsWith(own)));
}

async function readFile<Record>(
  { world }: Call,
  file: string,
  read: (bytes: Uint8Array) => ReadResult<Record>,
): Promise<ReadResult<Record>> {
  const bytes = await readWhole(file, { world, most: mostBytes });
  return "code" in bytes ? { ok: false, faults: [bytes] } : read(bytes);
}
