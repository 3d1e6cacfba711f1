import type { InputFault } from "@earthbell/model";
import type { Call } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { eachLine, type Line } from "../input/lines.ts";
import { chunksOf, sourceName, UnreadableSource } from "../input/source.ts";
import { errorRecord, faultsText } from "../views/faults-text.ts";
import { type DocumentWork, mostBytes } from "./document-work.ts";

/**
 * Reads one document a line and prints one result a line, in order. A bad line gets `{"error": …}` in its place and the
 * run goes on; so does a line on which the program itself fails. Each line is read when the one before has been taken by
 * the reader, so memory stays flat however long the input.
 */
export async function runBatch<Record, Result>(
  call: Call,
  work: DocumentWork<Record, Result>,
): Promise<ExitStatus> {
  let worst: ExitStatus = exitStatus.made;
  for (const operand of call.arguments.operands) {
    try {
      for await (const line of eachLine(chunksOf(operand, call.world), { longest: mostBytes })) {
        if (call.world.out.closed) return worst;
        const { status, value } = answer(line, { file: sourceName(operand), work });
        worst = worse(worst, status);
        await call.world.out.write(`${JSON.stringify(value)}\n`);
      }
    } catch (error) {
      if (!(error instanceof UnreadableSource)) throw error;
      worst = worse(worst, exitStatus.wrongInput);
      await call.world.out.write(`${JSON.stringify(errorRecord([error.fault]))}\n`);
      await call.complain(faultsText([error.fault], call.page));
    }
  }
  return worst;
}

/** A bug outranks a wrong file, which outranks nothing wrong. */
function worse(one: ExitStatus, other: ExitStatus): ExitStatus {
  const rank: readonly ExitStatus[] = [exitStatus.made, exitStatus.wrongInput, exitStatus.bug];
  return rank.indexOf(other) > rank.indexOf(one) ? other : one;
}

function answer<Record, Result>(
  line: Line,
  { file, work }: { readonly file: string; readonly work: DocumentWork<Record, Result> },
): { readonly status: ExitStatus; readonly value: unknown } {
  if (line.bytes === null)
    return { status: exitStatus.wrongInput, value: errorRecord([tooLong(file, line.number)]) };
  try {
    const read = work.read(line.bytes, file, line.number);
    if (!read.ok) return { status: exitStatus.wrongInput, value: errorRecord(read.faults) };
    return { status: exitStatus.made, value: work.solve(read.record) };
  } catch (error) {
    const what = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
    const message = `This is a bug of earthbell, not of the line; please report it. ${what}`;
    return { status: exitStatus.bug, value: { error: { message, file, line: line.number } } };
  }
}

function tooLong(file: string, line: number): InputFault {
  return {
    code: "INPUT_FILE_TOO_LARGE",
    file,
    line,
    column: null,
    field: "",
    value: null,
    allowed: `at most ${mostBytes} bytes a line`,
    message: `The line has more than ${mostBytes} bytes; nothing in it was read.`,
  };
}
