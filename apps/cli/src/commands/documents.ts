import type { InputFault } from "@earthbell/model";
import type { UsageFault } from "../command-line/usage-fault.ts";
import { usageText } from "../command-line/usage-text.ts";
import type { Call } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { readWhole, sourceName } from "../input/source.ts";
import { errorRecord, faultsText } from "../views/faults-text.ts";
import { runBatch } from "./batch.ts";
import { type DocumentWork, mostBytes } from "./document-work.ts";

/** Options of every command that works on documents. */
export const documentOptions = [
  { name: "json", help: "print JSON for programs instead of a page" },
  { name: "batch", help: "read one JSON document a line, print one JSON result a line, in order" },
] as const;

/** Works through the files of a command line, one after the other. A wrong file does not keep the next from being read. */
export async function runDocuments<Record, Result>(
  call: Call,
  work: DocumentWork<Record, Result>,
): Promise<ExitStatus> {
  const { operands } = call.arguments;
  const repeated = operands.filter((operand) => operand === "-").length > 1;
  if (repeated) return await refuse(call, inputRepeated);
  if (call.arguments.has("batch")) return await runBatch(call, work);
  let status: ExitStatus = exitStatus.made;
  for (const [index, operand] of operands.entries()) {
    if (call.world.out.closed) break;
    const made = await runOne(call, work, { operand, isFirst: index === 0 });
    if (!made) status = exitStatus.wrongInput;
  }
  return status;
}

async function runOne<Record, Result>(
  call: Call,
  work: DocumentWork<Record, Result>,
  { operand, isFirst }: { readonly operand: string; readonly isFirst: boolean },
): Promise<boolean> {
  const { world, arguments: given, print } = call;
  const asJson = given.has("json");
  const one = given.operands.length === 1;
  const writeJson = (value: unknown): Promise<void> =>
    world.out.write(`${JSON.stringify(value, null, one ? 2 : 0)}\n`);
  const source = await readWhole(operand, { world, most: mostBytes });
  const title = sourceName(operand);
  const read = "code" in source ? wrong(source) : work.read(source, title);
  if (!read.ok) {
    if (asJson) await writeJson(errorRecord(read.faults));
    await call.complain(faultsText(read.faults, call.page));
    return false;
  }
  await call.complain(faultsText(read.warnings, call.page));
  const result = work.solve(read.record);
  if (asJson) await writeJson(result);
  else await print([...(isFirst ? [] : ["", ""]), ...work.show({ record: read.record, result, title })]);
  return true;
}

function wrong(fault: InputFault): { readonly ok: false; readonly faults: readonly InputFault[] } {
  return { ok: false, faults: [fault] };
}

const inputRepeated: UsageFault = {
  code: "COMMAND_INPUT_REPEATED",
  message: "Standard input (-) is named more than once and can be read once only.",
  suggestions: [],
  lead: "example",
};

async function refuse({ page, complain }: Call, fault: UsageFault): Promise<ExitStatus> {
  await complain(usageText([fault], "earthbell help", page));
  return exitStatus.wrongInput;
}
