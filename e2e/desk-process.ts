import { type ChildProcess, spawn } from "node:child_process";
import { readFileSync } from "node:fs";

/** A desk of the demonstration, as somebody starts it who has read nothing. */
export interface DeskProcess {
  readonly url: string;
  readonly token: string;
  /** Where the first person makes an account. */
  readonly joinUrl: string;
  readonly ask: (path: string, method?: string, body?: unknown, token?: string) => Promise<unknown>;
  /** A site of its own beside the demonstration's: one string of 20 modules, and an open case of one sign. */
  readonly openCase: (site: string) => Promise<OpenCase>;
  readonly stop: () => Promise<void>;
}

export interface OpenCase {
  readonly id: string;
  /** Tells the desk whether the fault is there, as a device of the site does. */
  readonly fault: (there: boolean) => Promise<void>;
}

/** Listens to what a desk prints, and waits for something in it. */
export function saying(child: ChildProcess): (pattern: RegExp) => Promise<RegExpExecArray> {
  let printed = "";
  child.stdout?.on("data", (text) => (printed += String(text)));
  const gone = new Promise((resolve) => child.once("exit", resolve));
  return async (pattern) => {
    for (;;) {
      const found = pattern.exec(printed);
      if (found) return found;
      if (child.exitCode !== null) throw new Error(`The desk ended: ${printed}`);
      await Promise.race([new Promise((resolve) => child.stdout?.once("data", resolve)), gone]);
    }
  };
}

export async function startDesk(): Promise<DeskProcess> {
  const child = spawn(process.execPath, ["dist/earthbell.js", "desk", "--port", "0"]);
  const says = saying(child);
  await says(/What happens follows/u);
  const url = (await says(/address\s+(http:\S+)/u))[1]!;
  const token = (await says(/\n {2}token\s+(eb_\S+)/u))[1]!;
  const [, first = "", rest = ""] = await says(/\/join\/(\S+)(?:\n {12}(\S+))?/u);
  const ask: DeskProcess["ask"] = async (path, method = "GET", body, by = token) => {
    const text = typeof body === "string";
    const response = await fetch(url + path, {
      method,
      headers: {
        authorization: `Bearer ${by}`,
        ...(body === undefined ? {} : { "content-type": text ? "text/yaml" : "application/json" }),
      },
      ...(body === undefined ? {} : { body: text ? body : JSON.stringify(body) }),
    });
    if (!response.ok) throw new Error(`${path}: ${await response.text()}`);
    return (await response.json()) as unknown;
  };
  return {
    url,
    token,
    joinUrl: `${url}/join/${first}${rest}`,
    ask,
    openCase: async (site) => await openCase(ask, site),
    stop: async () => {
      await ended(child);
    },
  };
}

async function openCase(ask: DeskProcess["ask"], site: string): Promise<OpenCase> {
  const file = readFileSync("demo/sites/creamery.yaml", "utf8")
    .replace("id: creamery", `id: ${site}`)
    .replace("name: Hennick creamery", `name: Hall of ${site}`)
    .replace(
      / {6}- \{id: S1, modules: 13\}\n(?: {6}- \{id: S\d, modules: 13\}\n)+/u,
      "      - {id: S1, modules: 20}\n",
    );
  await ask(`/api/sites/${site}`, "PUT", file);
  const { token } = (await ask(`/api/sites/${site}/tokens`, "POST", { label: "test" })) as { token: string };
  const fault: OpenCase["fault"] = async (there) => {
    const reading = {
      ...{ array: "A1", device: "INV1", at: Date.now() },
      ...{ kind: "earth-fault-bit", value: there, unit: "bit" },
    };
    await ask("/api/push/readings", "POST", { readings: [reading] }, token);
  };
  await fault(true);
  const [opened] = (await ask(`/api/cases?site=${site}`)) as readonly { id: string }[];
  return { id: opened!.id, fault };
}

/** Ends a desk as a service manager does, and waits until it has gone. */
export async function ended(child: ChildProcess): Promise<void> {
  const gone = new Promise((resolve) => child.once("exit", resolve));
  child.kill("SIGTERM");
  await gone;
}
