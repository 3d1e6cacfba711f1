import { execFileSync, spawn, type ChildProcess } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { connect as connectTcp, createServer, type AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { vi } from "vitest";

export const DESK = { user: "desk", password: "desk's word" };
export const DEVICE = { user: "inv1", password: "device's word" };

export interface Broker {
  readonly url: string;
  /** Ends the broker in order, as a restart of its machine does, so that it writes its queues down. */
  stop(): Promise<void>;
  start(): Promise<void>;
  remove(): Promise<void>;
}

export interface BrokerChange {
  /** Lines of mosquitto's configuration. */
  readonly lines?: readonly string[];
  readonly certificate?: { readonly cert: string; readonly key: string };
}

const PATH = `${process.env["PATH"] ?? ""}:/usr/sbin`;

/** A mosquitto of its own on loopback, with a password file. @throws with what to install when it is missing: never skipped. */
export async function startBroker({ lines = [], certificate }: BrokerChange = {}): Promise<Broker> {
  const folder = mkdtempSync(join(tmpdir(), "mqtt-peer-"));
  const port = await freePort();
  const passwords = join(folder, "passwords");
  writeFileSync(passwords, "", { mode: 0o600 });
  for (const { user, password } of [DESK, DEVICE]) run("mosquitto_passwd", ["-b", passwords, user, password]);
  const config = [
    ...["user root", "persistence true", `persistence_location ${folder}/`, "log_type error"],
    ...["allow_anonymous false", `password_file ${passwords}`, ...lines, `listener ${port} 127.0.0.1`],
    ...(certificate === undefined ? [] : [`certfile ${certificate.cert}`, `keyfile ${certificate.key}`]),
  ];
  const file = join(folder, "mosquitto.conf");
  writeFileSync(file, `${config.join("\n")}\n`);
  let child: ChildProcess | null = null;
  const start = async () => {
    child = spawn("mosquitto", ["-c", file], { stdio: "ignore", env: { ...process.env, PATH } });
    await vi.waitFor(() => answers(port), { timeout: 10_000 });
  };
  const stop = async () => {
    if (child === null) return;
    const gone = once(child, "exit");
    child.kill("SIGTERM");
    await gone;
    child = null;
  };
  await start();
  return {
    url: `${certificate === undefined ? "mqtt" : "mqtts"}://${certificate === undefined ? "127.0.0.1" : "localhost"}:${port}`,
    start,
    stop,
    async remove() {
      await stop();
      rmSync(folder, { recursive: true });
    },
  };
}

function run(program: string, args: readonly string[]): void {
  try {
    execFileSync(program, args, { stdio: "pipe", env: { ...process.env, PATH } });
  } catch (cause) {
    throw new Error(
      `${program} did not run. This check needs mosquitto (Debian: apt-get install mosquitto).`,
      { cause },
    );
  }
}

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address() as AddressInfo;
  await new Promise((resolve) => server.close(resolve));
  return port;
}

function answers(port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    const socket = connectTcp(port, "127.0.0.1");
    socket.once("connect", () => {
      socket.destroy();
      resolve();
    });
    socket.once("error", reject);
  });
}
