import { assessSite } from "@earthbell/engine";
import { WATCH_LIMITS } from "@earthbell/model";
import type { IssueFolder } from "@earthbell/papers";
import { type ChildProcess, fork } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { monitorEventLoopDelay } from "node:perf_hooks";
import { machineClock as clock } from "../../apps/desk/src/clock.ts";
import { DriftReader } from "../../apps/desk/src/drift/drift-reader.ts";
import { makePersonToken } from "../../apps/desk/src/http/make-token.ts";
import { buildServer } from "../../apps/desk/src/http/server.ts";
import { createPaperOffice } from "../../apps/desk/src/papers/paper-office.ts";
import { openRuleBook } from "../../apps/desk/src/rules/rule-book.ts";
import { deskMetrics } from "../../apps/desk/src/start/desk-metrics.ts";
import { type DeskStore, openStore } from "../../apps/desk/src/store/index.ts";
import { wordsFor } from "../../apps/desk/src/tell/words/words.ts";
import { createWatch } from "../../apps/desk/src/watch/index.ts";
import { quiet } from "../desk-tell/furnished-desk.ts";
import { putManySites } from "./many-sites.ts";

/** What the desk spent since it was last asked. */
export interface Spent {
  readonly cpuMs: number;
  /** The longest that nothing else got its turn. */
  readonly longestBlockMs: number;
}

export interface DeskProcess {
  readonly address: string;
  readonly token: string;
  readonly spent: () => Promise<Spent>;
  readonly stop: () => void;
}

/** A desk with so many sites in a process of its own. */
export async function startDeskProcess(script: string, sites: number): Promise<DeskProcess> {
  const child = fork(script, ["desk", String(sites)], { stdio: "inherit" });
  const { address, token } = await nextMessage<{ address: string; token: string }>(child);
  return {
    address,
    token,
    spent: () => {
      const answer = nextMessage<Spent>(child);
      child.send("spent");
      return answer;
    },
    stop: () => child.kill(),
  };
}

function nextMessage<Message>(child: ChildProcess): Promise<Message> {
  return new Promise((resolve, reject) => {
    const gone = (code: number | null): void => {
      reject(new Error(`The desk ended with ${String(code)}.`));
    };
    child.once("exit", gone);
    child.once("message", (message) => {
      child.off("exit", gone);
      resolve(message as Message);
    });
  });
}

/** The other end: serves until it is killed. */
export async function serveDesk(sites: number): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "web-places-"));
  process.on("exit", () => {
    rmSync(folder, { recursive: true, force: true });
  });
  process.on("SIGTERM", () => process.exit(0));
  const store = await openStore({ kind: "sqlite", file: join(folder, "desk.db") });
  const app = await serverOf(store, folder, sites);
  const token = await makePersonToken(store, "Ann Lee", { by: "bench", at: clock.now() });
  const address = await app.listen({ port: 0, host: "127.0.0.1" });
  const delay = monitorEventLoopDelay({ resolution: 1 });
  delay.enable();
  let cpu = process.cpuUsage();
  process.on("message", () => {
    const { user, system } = process.cpuUsage(cpu);
    process.send!({ cpuMs: (user + system) / 1000, longestBlockMs: delay.max / 1e6 } satisfies Spent);
    delay.reset();
    cpu = process.cpuUsage();
  });
  process.send!({ address, token });
}

async function serverOf(store: DeskStore, folder: string, sites: number) {
  const rules = await openRuleBook(store, []);
  const watch = createWatch({
    ...{ store, clock, log: quiet, words: wordsFor, channels: ["email"], keepers: [] },
    ...{ acknowledgeAt: "http://127.0.0.1/a/", linkHoldsMs: 86_400_000 },
    assess: (site) => assessSite(site, { packs: rules.packs(), onDate: "2026-11-25" }),
  });
  await watch.start();
  await putManySites(store, watch, sites, clock.now());
  return buildServer({
    ...{
      name: "Bench",
      version: "0",
      store,
      watch,
      clock,
      log: quiet,
      metrics: deskMetrics(store, clock, () => []),
      listeners: [],
    },
    drift: new DriftReader(store, clock),
    ...{ standing, judgeAnew: () => undefined, rules, siteFiles: null, settings: null, demonstrated: [] },
    photos: { keep: () => Promise.reject(new Error("none")), read: () => Promise.resolve(null) },
    papers: officeIn(folder, store),
    origin: () => "http://127.0.0.1",
    cookieName: "earthbell",
    webFolder: resolve("dist/web"),
    behindProxy: false,
    setUp: { file: "desk.yaml", settings: { desk: { name: "Bench" } }, limits: WATCH_LIMITS, channels: [] },
    requestsPerMinute: 100_000,
  });
}

/** Shares of a fleet as they are judged, by the number in the id. */
function standing(site: string) {
  const n = Number(site.slice(5));
  return {
    ...{ onDate: "2026-11-25", thresholdOhms: 30_000, provedOn: null },
    duty: n % 9 === 0 ? ("undecided" as const) : ("required" as const),
    path: n % 4 === 0 ? ("meets" as const) : ("unproven" as const),
  };
}

const sha256 = (content: string | Uint8Array): string => createHash("sha256").update(content).digest("hex");

/** An office that has issued nothing yet. */
function officeIn(folder: string, store: DeskStore) {
  const empty: IssueFolder = {
    write: (name) => Promise.resolve(name),
    read: () => Promise.resolve(null),
    names: () => Promise.resolve([]),
    keep: () => Promise.resolve(),
    latest: () => Promise.resolve(null),
  };
  const tools = {
    ...{ digest: sha256, digestOfBytes: sha256, openFolder: () => Promise.resolve(empty) },
    ...{ close: () => Promise.resolve(), run: () => Promise.reject(new Error("nothing is made here")) },
  };
  const files = { folder, feedKeyFile: join(folder, "feed"), signingFolder: join(folder, "signing") };
  return createPaperOffice({ tools, ...files, store, version: "0" });
}
