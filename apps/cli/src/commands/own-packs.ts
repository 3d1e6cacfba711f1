import type { RulePack } from "@earthbell/engine";
import { type InputFault, readRulePack } from "@earthbell/model";
import type { Option } from "../command-line/option.ts";
import type { Call } from "../command.ts";
import { readWhole, sourceName } from "../input/source.ts";
import { errorRecord, faultsText } from "../views/faults-text.ts";
import { mostBytes } from "./document-work.ts";

/** The option with which a user hands over rule packs of their own. */
export const rulesOption: Option = {
  name: "rules",
  value: "FILE",
  repeatable: true,
  help: "hold this rule pack too; one with a known id replaces it",
};

/** The user's rule packs, or null after every fault of every pack has been told. */
export async function readOwnPacks(call: Call): Promise<readonly RulePack[] | null> {
  const packs: RulePack[] = [];
  const faults: InputFault[] = [];
  for (const file of call.arguments.values(rulesOption.name)) {
    const source = await readWhole(file, { world: call.world, most: mostBytes });
    const read =
      "code" in source ? { ok: false as const, faults: [source] } : readRulePack(source, sourceName(file));
    if (read.ok) packs.push(read.record);
    else {
      faults.push(...read.faults);
      await call.complain(faultsText(read.faults, call.page));
    }
  }
  if (faults.length === 0) return packs;
  if (call.arguments.has("json"))
    await call.world.out.write(`${JSON.stringify(errorRecord(faults), null, 2)}\n`);
  return null;
}
