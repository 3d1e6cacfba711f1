import { type ChildProcess, spawn } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { run } from "./run-cli.ts";

/** The desk as it is shipped, in a process of its own. */
class DeskProcess {
  #out = "";
  #err = "";
  readonly ended: Promise<number | null>;

  private constructor(private readonly child: ChildProcess) {
    child.stdout?.on("data", (text) => (this.#out += String(text)));
    child.stderr?.on("data", (text) => (this.#err += String(text)));
    this.ended = new Promise((resolve) => child.on("exit", resolve));
  }

  static start(args: readonly string[], environment: Record<string, string> = {}): DeskProcess {
    const child = spawn(process.execPath, ["dist/earthbell.js", "desk", "--port", "0", ...args], {
      env: { ...process.env, ...environment },
    });
    return new DeskProcess(child);
  }

  get out(): string {
    return this.#out;
  }
  get err(): string {
    return this.#err;
  }

  /** Waits until what the desk has printed holds the pattern. */
  async says(pattern: RegExp): Promise<RegExpExecArray> {
    for (;;) {
      const found = pattern.exec(this.#out + this.#err);
      if (found) return found;
      if (this.child.exitCode !== null)
        throw new Error(`It ended with ${String(this.child.exitCode)}: ${this.#err}`);
      await new Promise((resolve) => this.child.stderr!.once("data", resolve));
    }
  }

  async stop(): Promise<number | null> {
    this.child.kill("SIGTERM");
    return this.ended;
  }
  async kill(): Promise<void> {
    this.child.kill("SIGKILL");
    await this.ended;
  }
}

const running: DeskProcess[] = [];
let data: string;

function start(args: readonly string[], environment?: Record<string, string>): DeskProcess {
  const desk = DeskProcess.start(args, environment);
  running.push(desk);
  return desk;
}

beforeEach(() => {
  data = mkdtempSync(join(tmpdir(), "earthbell-desk-"));
});
afterEach(async () => {
  for (const desk of running.splice(0)) await desk.kill();
  rmSync(data, { recursive: true, force: true });
});

async function ask(
  url: string,
  token: string,
  { headers = {}, ...init }: Omit<RequestInit, "headers"> & { headers?: Record<string, string> } = {},
): Promise<Response> {
  return fetch(url, { ...init, headers: { ...headers, authorization: `Bearer ${token}` } });
}

describe("earthbell desk", () => {
  it("without a folder shows a fault of a simulated device reaching people, and leaves nothing behind", async () => {
    const desk = start([]);
    const [, url] = await desk.says(/address\s+(http:\S+)/u);
    const [, token] = await desk.says(/token\s+(eb_\S+)/u);
    const [, tray] = await desk.says(/messages\s+(\S+)/u);
    await desk.says(/message laid into the tray: Alarm/u);
    const cases = (await (await ask(`${url!}/api/cases`, token!)).json()) as readonly { site: string }[];
    expect(cases.map(({ site }) => site)).toContain("creamery");
    const letter = readFileSync(join(tray!, readdirSync(tray!)[0]!), "utf8");
    expect(letter).toContain("Hennick creamery");
    expect(letter).toMatch(/\/a\/\S+/u);
    expect(await desk.stop()).toBe(0);
    expect(existsSync(tray!)).toBe(false);
  });

  it("serves the app, its state and the description of its interface", async () => {
    const desk = start([]);
    const [, url] = await desk.says(/address\s+(http:\S+)/u);
    const page = await fetch(url!, { headers: { accept: "text/html" } });
    expect(page.headers.get("content-security-policy")).toContain("script-src 'self'");
    expect(await page.text()).toContain("<title>Earthbell</title>");
    // Not at once: the devices are heard one after the other.
    await expect
      .poll(async (): Promise<unknown> => (await fetch(`${url!}/healthz`)).json(), { timeout: 60_000 })
      .toMatchObject({ state: "well" });
    expect(await (await fetch(`${url!}/metrics`)).text()).toContain("# EOF");
    expect((await fetch(`${url!}/openapi.json`)).status).toBe(200);
    expect((await fetch(`${url!}/%2e%2e/%2e%2e/package.json`)).status).toBe(404);
  });
});

const SETTINGS = `format: earthbell.desk/1
desk: {name: Skerry}
tray: {folder: tray, instead: [email]}
keepers: [{name: Keeper, email: keeper@example.org}]
`;

function furnish(settings = SETTINGS): void {
  mkdirSync(join(data, "sites"), { recursive: true });
  writeFileSync(join(data, "desk.yaml"), settings);
  writeFileSync(join(data, "sites", "creamery.yaml"), readFileSync("demo/sites/creamery.yaml"));
}

async function atWork(desk: DeskProcess): Promise<string> {
  const [, url] = await desk.says(/"url":"(http:[^"]+)"/u);
  return url!;
}

async function pushFault(url: string, token: string): Promise<void> {
  const reading = {
    array: "A1",
    device: "INV1",
    at: Date.now(),
    kind: "earth-fault-bit",
    value: true,
    unit: "bit",
  };
  const reply = await ask(`${url}/api/push/readings`, token, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ readings: [reading] }),
  });
  expect(await reply.json()).toMatchObject({ taken: 1 });
}

describe("earthbell desk --data", () => {
  it("hears a pushed fault, tells people, is copied while it runs, and comes back from the copy", async () => {
    furnish();
    const desk = start(["--data", data]);
    const url = await atWork(desk);
    const made = await run(["token", "--data", data, "--site", "creamery"]);
    expect([made.status, made.err]).toEqual([0, ""]);
    await pushFault(url, made.out.trim());
    await desk.says(/message laid into the tray: Alarm/u);
    const copy = `${data}-copy`;
    const back = `${data}-back`;
    expect((await run(["backup", "--data", data, copy])).status).toBe(0);
    expect((await run(["backup", "--data", data, copy])).err).toContain("DESK_COPY_EXISTS");
    expect((await run(["restore", "--data", data, copy])).err).toContain("DESK_FOLDER_NOT_EMPTY");
    expect(await desk.stop()).toBe(0);

    expect((await run(["restore", "--data", back, copy])).status).toBe(0);
    rmSync(data, { recursive: true });
    renameSync(back, data);
    rmSync(copy, { recursive: true });
    const again = start(["--data", data]);
    const person = await run(["token", "--data", data, "--person", "Ann Lee"]);
    const cases = await ask(`${await atWork(again)}/api/cases`, person.out.trim());
    expect(await cases.json()).toMatchObject([{ site: "creamery", closed: null }]);
    expect(await again.stop()).toBe(0);
  });

  it("after a stop without order tells its keepers what may have been missed", async () => {
    furnish();
    const first = start(["--data", data]);
    await atWork(first);
    await first.kill();
    const second = start(["--data", data]);
    await second.says(/message laid into the tray[^\n]*/u);
    const letters = readdirSync(join(data, "tray")).map((name) =>
      readFileSync(join(data, "tray", name), "utf8"),
    );
    expect(letters.some((text) => text.includes("keeper@example.org"))).toBe(true);
    expect(await second.stop()).toBe(0);
  });

  it("gives a sign of life that a switch outside can poll", async () => {
    furnish();
    const desk = start(["--data", data]);
    await atWork(desk);
    expect(Date.parse(readFileSync(join(data, "beat"), "utf8").trim())).toBeGreaterThan(Date.now() - 60_000);
  });

  it.each([
    [
      "no settings",
      () => {
        rmSync(join(data, "desk.yaml"));
      },
      "DESK_SETTINGS_MISSING",
    ],
    [
      "a fault in the settings",
      () => {
        furnish(SETTINGS.replace("name:", "nam:"));
      },
      "INPUT_FIELD_UNKNOWN",
    ],
    [
      "a secret that is not there",
      () => {
        furnish(`${SETTINGS}webhook: {keys: [{id: k, secret: {env: EB_UNSET}}]}\n`);
      },
      "DESK_SECRET_MISSING",
    ],
    [
      "a store that is none",
      () => {
        writeFileSync(join(data, "desk.db"), "x".repeat(5000));
      },
      "STORE_OPEN_FAILED",
    ],
  ])("does not start from %s, and says so by its code", async (_, spoil, code) => {
    furnish();
    spoil();
    const desk = start(["--data", data]);
    expect(await desk.ended).toBe(2);
    expect(desk.err).toContain(code);
    expect(desk.err).not.toContain("    at ");
  });

  it("keeps a second desk out, and a port that is taken is named", async () => {
    furnish();
    const desk = start(["--data", data]);
    const url = await atWork(desk);
    const second = start(["--data", data]);
    expect(await second.ended).toBe(2);
    expect(second.err).toContain("DESK_ALREADY_RUNNING");
    const other = mkdtempSync(join(tmpdir(), "earthbell-desk-"));
    writeFileSync(join(other, "desk.yaml"), SETTINGS);
    const third = await run(["desk", "--data", other, "--port", new URL(url).port]);
    expect([third.status, third.err.includes("DESK_PORT_TAKEN")]).toEqual([2, true]);
    rmSync(other, { recursive: true });
  });

  it("with one faulty site file watches the others, and lists every fault", async () => {
    furnish();
    writeFileSync(join(data, "sites", "bad.yaml"), "format: earthbell.site/1\nsite: {id: bad}\n");
    const desk = start(["--data", data]);
    await atWork(desk);
    await desk.says(/INPUT_FIELD_MISSING/u);
    expect(await desk.stop()).toBe(0);
  });
});
