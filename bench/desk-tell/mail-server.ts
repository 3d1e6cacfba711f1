import { spawn } from "node:child_process";
import { once } from "node:events";
import { createInterface } from "node:readline";

/** Debian's aiosmtpd with the script of the check, in a process of its own; it takes every message. */
export async function startMailServer(): Promise<{ readonly port: number; readonly stop: () => void }> {
  const child = spawn("/usr/bin/python3", ["checks/mail-peer/server.py"], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  const lines = createInterface({ input: child.stdout });
  const [first] = (await once(lines, "line")) as [string];
  // What it prints for each message is read and dropped, or it would wait for a reader.
  lines.on("line", () => undefined);
  return { port: Number(first), stop: () => void child.kill("SIGTERM") };
}
