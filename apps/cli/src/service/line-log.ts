import type { Log } from "@earthbell/desk";
import type { Writer } from "../output/writer.ts";

/** The desk's log: one JSON object a line, for the journal of the machine and for whoever reads it later. */
export function lineLog(writer: Writer, now: () => number): Log {
  const write = (level: string) => (about: Readonly<Record<string, unknown>>, text: string) => {
    const line = JSON.stringify({ at: new Date(now()).toISOString(), level, text, ...about }, plain);
    // A log that cannot be written must not stop the desk.
    writer.write(`${line}\n`).catch(() => undefined);
  };
  return { info: write("info"), warn: write("warn"), error: write("error") };
}

/** Errors have no fields of their own to print. */
function plain(_: string, value: unknown): unknown {
  return value instanceof Error ? { name: value.name, message: value.message, stack: value.stack } : value;
}
