import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { earthbell } from "./earthbell.ts";
import { Writer } from "./output/writer.ts";

const webFolder = fileURLToPath(new URL("./web/", import.meta.url));

// The status is set, not forced with process.exit: text still on its way out is written first.
process.exitCode = await earthbell(process.argv.slice(2), {
  environment: process.env,
  out: new Writer(process.stdout),
  err: new Writer(process.stderr),
  standardInput: () => process.stdin,
  terminal: {
    isTerminal: process.stdout.isTTY,
    columns: process.stdout.isTTY ? process.stdout.columns : undefined,
  },
  today: () => {
    const now = new Date();
    const part = (value: number): string => String(value).padStart(2, "0");
    return `${now.getFullYear()}-${part(now.getMonth() + 1)}-${part(now.getDate())}`;
  },
  random: Math.random,
  stopSignal: () => {
    const stop = new AbortController();
    for (const name of ["SIGINT", "SIGTERM"] as const)
      process.once(name, () => {
        stop.abort();
      });
    return stop.signal;
  },
  ...(existsSync(webFolder) ? { webFolder } : {}),
  demoFolder: fileURLToPath(new URL("../demo/", import.meta.url)),
});
