import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { type AddressInfo, createServer } from "node:net";
import { join } from "node:path";

const PYTHON = "/usr/bin/python3";
const INSTALL =
  "install python3-pymodbus, python3-serial and python3-serial-asyncio (Debian) for /usr/bin/python3";

/** A gateway served by the other implementation, in a process of its own. */
export class Peer {
  readonly port: number;
  private child: ChildProcess | null = null;

  constructor(port: number) {
    this.port = port;
  }

  /** @throws with what to install where the peer is missing: never skipped */
  async start(): Promise<void> {
    const child = spawn(PYTHON, [join(import.meta.dirname, "server.py"), String(this.port)], {
      stdio: ["pipe", "pipe", "pipe"],
    });
    this.child = child;
    let errors = "";
    child.stderr.on("data", (chunk: Buffer) => (errors += chunk.toString()));
    const ready = once(child.stdout, "data");
    const ended = once(child, "exit").then(() => {
      throw new Error(`The Modbus server ended at once; ${INSTALL}. ${errors}`);
    });
    ended.catch(() => undefined);
    await Promise.race([ready, ended]);
  }

  set(unit: number, address: number, word: number): void {
    this.child?.stdin?.write(`${String(unit)} ${String(address)} ${String(word)}\n`);
  }

  /** The process stands still: its connections stay open, and nothing answers. */
  stall(): void {
    this.child?.kill("SIGSTOP");
  }

  resume(): void {
    this.child?.kill("SIGCONT");
  }

  /** Ends it without a word, as a power cut does. */
  async kill(): Promise<void> {
    const { child } = this;
    this.child = null;
    if (child === null) return;
    const gone = once(child, "exit");
    child.kill("SIGKILL");
    await gone;
  }
}

export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address() as AddressInfo;
  await new Promise((resolve) => server.close(resolve));
  return port;
}

/** What the other implementation sees as a client. */
export async function readFleet(port: number, unit: number, base: number): Promise<unknown> {
  const child = spawn(PYTHON, [
    join(import.meta.dirname, "read_fleet.py"),
    String(port),
    String(unit),
    String(base),
  ]);
  const chunks: Buffer[] = [];
  const errors: Buffer[] = [];
  child.stdout.on("data", (chunk: Buffer) => chunks.push(chunk));
  child.stderr.on("data", (chunk: Buffer) => errors.push(chunk));
  const [status] = (await once(child, "close")) as [number];
  if (status !== 0)
    throw new Error(`The Modbus client ended; ${INSTALL}. ${Buffer.concat(errors).toString()}`);
  return JSON.parse(Buffer.concat(chunks).toString()) as unknown;
}
