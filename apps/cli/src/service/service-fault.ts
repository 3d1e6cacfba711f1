import type { Call } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { catalogue } from "../catalogue/catalogue.ts";
import { wrap } from "../terminal/wrap.ts";

type Desk = typeof import("@earthbell/desk");

/**
 * Runs what needs the desk. Its parts are read only now: other commands start without them. What keeps it from its work and
 * has a code is told in words; anything else is a bug.
 */
export async function withDesk(call: Call, work: (desk: Desk) => Promise<ExitStatus>): Promise<ExitStatus> {
  try {
    return await work(await import("@earthbell/desk"));
  } catch (error) {
    const [code, text] = codedWords(error);
    if (code === null) throw error;
    const next = catalogue.find((entry) => entry.code === code)?.next ?? "";
    const { width } = call.page;
    await call.complain([
      ...wrap(`${code}: ${text}`, width),
      ...wrap(next, width),
      `More: earthbell explain ${code}`,
    ]);
    return exitStatus.wrongInput;
  }
}

function codedWords(error: unknown): readonly [string | null, string] {
  if (!(error instanceof Error)) return [null, ""];
  if ("code" in error && error.code === "ERR_MODULE_NOT_FOUND" && error.message.includes("better-sqlite3"))
    return ["DESK_DRIVER_MISSING", "better-sqlite3 is not installed."];
  const code = "code" in error ? String(error.code) : "";
  const known = catalogue.some((entry) => entry.code === code);
  return known ? [code, error.message.replace(`${code}: `, "")] : [null, ""];
}
