import { execFileSync, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { vi } from "vitest";

const PYTHON = "/usr/bin/python3";
const HERE = import.meta.dirname;

/** What the server took: the conversation, and the message byte by byte. */
export interface Taken {
  readonly from: string;
  readonly to: readonly string[];
  readonly tls: boolean;
  readonly login: string | null;
  /** Base64. */
  readonly message: string;
}

export interface MailServer {
  readonly port: number;
  readonly taken: readonly Taken[];
  /** What was taken for an address, once it is that many: the server answers the client before we read what it printed. */
  takenFor(address: string, count: number): Promise<readonly Taken[]>;
  stop(): Promise<void>;
}

/** Starts the scripted server. @throws with what to install when its library is missing: this check is never skipped. */
export async function startMailServer(...args: readonly string[]): Promise<MailServer> {
  const child = spawn(PYTHON, [join(HERE, "server.py"), ...args], { stdio: ["ignore", "pipe", "pipe"] });
  const errors: string[] = [];
  child.stderr.on("data", (chunk: Buffer) => errors.push(chunk.toString()));
  const lines = createInterface({ input: child.stdout });
  const taken: Taken[] = [];
  const port = await new Promise<number>((resolve, reject) => {
    lines.once("line", (first) => {
      lines.on("line", (line) => taken.push(JSON.parse(line) as Taken));
      resolve(Number(first));
    });
    child.once("exit", () => {
      const install = "It needs aiosmtpd for /usr/bin/python3 (Debian: apt-get install python3-aiosmtpd).";
      reject(new Error(`The mail server did not start. ${install}\n${errors.join("")}`));
    });
  });
  return {
    port,
    taken,
    takenFor: (address, count) =>
      vi.waitFor(() => {
        const found = taken.filter(({ to }) => to.includes(address));
        if (found.length !== count) throw new Error(`${found.length} taken for ${address}, not ${count}`);
        return found;
      }),
    async stop() {
      const gone = once(child, "exit");
      child.kill("SIGTERM");
      await gone;
    },
  };
}

/** A certificate for localhost that nobody else signed, made now. */
export function selfMadeCertificate(): { readonly cert: string; readonly key: string; readonly pem: string } {
  const folder = mkdtempSync(join(tmpdir(), "mail-peer-"));
  const [cert, key] = [join(folder, "cert.pem"), join(folder, "key.pem")];
  execFileSync(
    "openssl",
    [
      ...[
        "req",
        "-x509",
        "-newkey",
        "ec",
        "-pkeyopt",
        "ec_paramgen_curve:prime256v1",
        "-nodes",
        "-days",
        "2",
      ],
      ...["-subj", "/CN=localhost", "-addext", "subjectAltName=DNS:localhost,IP:127.0.0.1"],
      ...["-keyout", key, "-out", cert],
    ],
    { stdio: "pipe" },
  );
  return { cert, key, pem: readFileSync(cert, "utf8") };
}

/** A message as Python's mail parser reads it. */
export interface ReadMessage {
  readonly headers: readonly (readonly [string, string])[];
  readonly type: string;
  readonly bodies: Readonly<Record<string, string>>;
  readonly defects: readonly string[];
}

export function readMessages(taken: readonly Taken[]): readonly ReadMessage[] {
  const input = taken.map(({ message }) => JSON.stringify(message)).join("\n");
  const output = execFileSync(PYTHON, [join(HERE, "read_message.py")], {
    input: `${input}\n`,
    encoding: "utf8",
  });
  return output
    .trim()
    .split("\n")
    .map((line) => JSON.parse(line) as ReadMessage);
}

export function headerOf(message: ReadMessage, name: string): string | undefined {
  return message.headers.find(([own]) => own.toLowerCase() === name.toLowerCase())?.[1];
}
