import { createReadStream } from "node:fs";
import { readdir } from "node:fs/promises";
import type { InputFault } from "@earthbell/model";
import { type FileCode, fileCodes } from "../catalogue/file-codes.ts";
import type { World } from "../world.ts";

/** What a file on the command line is called in messages. */
export function sourceName(operand: string): string {
  return operand === "-" ? "standard input" : operand;
}

/** The file could not be read at all; `fault` says why in the form of every other fault of input. */
export class UnreadableSource extends Error {
  override readonly name = "UnreadableSource";
  constructor(readonly fault: InputFault) {
    super(fault.message);
  }
}

/**
 * The bytes of a file, or of standard input for `-`, as they come. Nothing is opened before the first chunk is asked for.
 *
 * @throws UnreadableSource when the file is not there, is a folder or may not be read
 */
export async function* chunksOf(operand: string, world: World): AsyncGenerator<Uint8Array> {
  const chunks: AsyncIterable<Uint8Array> =
    operand === "-" ? world.standardInput() : createReadStream(operand);
  try {
    yield* chunks;
  } catch (error) {
    throw unreadable(operand, error);
  }
}

/**
 * All bytes of a source, up to a limit; one byte more than the limit is never kept.
 *
 * @returns the bytes, or a fault when the source cannot be read or holds more
 */
export async function readWhole(
  operand: string,
  { world, most }: { readonly world: World; readonly most: number },
): Promise<Uint8Array | InputFault> {
  const kept: Uint8Array[] = [];
  let size = 0;
  try {
    for await (const chunk of chunksOf(operand, world)) {
      size += chunk.length;
      if (size > most) return tooLarge(operand, most);
      kept.push(chunk);
    }
  } catch (error) {
    if (error instanceof UnreadableSource) return error.fault;
    throw error;
  }
  return Buffer.concat(kept);
}

/** The names in a folder, sorted, or a fault when it cannot be read. */
export async function namesIn(folder: string): Promise<readonly string[] | InputFault> {
  try {
    return (await readdir(folder)).sort();
  } catch (error) {
    const failure = unreadable(folder, error);
    if (failure instanceof UnreadableSource) return failure.fault;
    throw error;
  }
}

function unreadable(operand: string, error: unknown): unknown {
  const code = codeFor((error as NodeJS.ErrnoException).code);
  if (!code) return error;
  const { meaning } = fileCodes.find((entry) => entry.code === code)!;
  return new UnreadableSource(
    faultOf(operand, { code, message: meaning, allowed: "the name of a file that can be read" }),
  );
}

function codeFor(systemCode: string | undefined): FileCode | undefined {
  switch (systemCode) {
    case "ENOENT":
    case "ENOTDIR":
      return "FILE_PATH_NOT_FOUND";
    case "EISDIR":
      return "FILE_PATH_IS_FOLDER";
    case "EACCES":
    case "EPERM":
    case "ELOOP":
    case "ENAMETOOLONG":
      return "FILE_PATH_NOT_READABLE";
    default:
      return undefined;
  }
}

function tooLarge(operand: string, most: number): InputFault {
  return faultOf(operand, {
    code: "INPUT_FILE_TOO_LARGE",
    message: `It has more than ${most} bytes; nothing in it was read.`,
    allowed: `at most ${most} bytes`,
  });
}

function faultOf(operand: string, what: Pick<InputFault, "code" | "message" | "allowed">): InputFault {
  return { ...what, file: sourceName(operand), line: null, column: null, field: "", value: null };
}
