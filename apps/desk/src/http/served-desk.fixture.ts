import { assessSite } from "@earthbell/engine";
import { WATCH_LIMITS } from "@earthbell/model";
import { fileName, type IssueFolder, issueText, readIssue, runJob, signatureText } from "@earthbell/papers";
import type { FastifyInstance } from "fastify";
import { createHash, createPrivateKey, createPublicKey, sign } from "node:crypto";
import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DriftReader } from "../drift/drift-reader.ts";
import { createPaperOffice, type PaperOffice, type PaperTools } from "../papers/paper-office.ts";
import { Registry } from "prom-client";
import { openRuleBook } from "../rules/rule-book.ts";
import type { OwnPack } from "../settings/set-up.ts";
import { type DeskStore, openStore } from "../store/index.ts";
import { wordsFor } from "../tell/words/words.ts";
import { digestOf, type PhotoFiles } from "../visits/photo-files.ts";
import { pauseToTheEnd } from "../watch/desk.fixture.ts";
import { type Beacon, createWatch, type Watch } from "../watch/index.ts";
import type { DeskParts } from "./desk-parts.ts";
import { buildServer } from "./server.ts";

/** Before dawn at the site, so that no morning check is missed yet. */
export const DAWN = Date.UTC(2026, 10, 24, 17, 0);
export const ORIGIN = "https://desk.example.org";
export const CREAMERY = readFileSync(
  new URL("../../../../demo/sites/creamery.yaml", import.meta.url),
  "utf8",
);
const log = { info: () => undefined, warn: () => undefined, error: () => undefined };

const SET_UP = {
  file: "desk.yaml",
  settings: { desk: { name: "Skerry" } },
  limits: WATCH_LIMITS,
  channels: [],
};

const TELLING = {
  log,
  words: wordsFor,
  channels: ["email"],
  keepers: [],
  acknowledgeAt: `${ORIGIN}/a/`,
  linkHoldsMs: 7 * 24 * 3_600_000,
} as const;

export interface ServedDesk {
  readonly store: DeskStore;
  readonly watch: Watch;
  readonly app: FastifyInstance;
  readonly drift: DriftReader;
  close(): Promise<void>;
}

/** A desk behind its HTTP side, with a store in memory and a clock that is set by hand. */
export async function servedDesk(
  now: () => number,
  change: Partial<DeskParts> = {},
  ownPacks: readonly OwnPack[] = [],
  beacons: readonly Beacon[] = [],
): Promise<ServedDesk> {
  const clock = { now, pause: pauseToTheEnd };
  const store = await openStore({ kind: "sqlite", file: ":memory:" });
  const rules = await openRuleBook(store, ownPacks);
  const watch = createWatch({
    store,
    clock,
    beacons,
    ...TELLING,
    assess: (site) => assessSite(site, { packs: rules.packs(), onDate: "2026-11-25" }),
  });
  await watch.start();
  const drift = new DriftReader(store, { now, pause: () => Promise.resolve() });
  const app = await buildServer({
    name: "Skerry",
    version: "0.0.0",
    store,
    watch,
    clock,
    log,
    metrics: new Registry(),
    listeners: [],
    standing: () => null,
    drift,
    judgeAnew: () => undefined,
    rules,
    photos: photosInMemory(),
    siteFiles: null,
    papers: papersOf(store),
    origin: () => ORIGIN,
    cookieName: "__Host-earthbell",
    webFolder: null,
    behindProxy: false,
    demonstrated: [],
    setUp: SET_UP,
    settings: null,
    ...change,
  });
  const close = async (): Promise<void> => {
    await app.close();
    await store.close();
  };
  return { store, watch, app, drift, close };
}

function papersOf(store: DeskStore): PaperOffice {
  const keys = mkdtempSync(join(tmpdir(), "earthbell-keys-"));
  return createPaperOffice({
    tools: papersInMemory(),
    folder: "papers",
    feedKeyFile: join(keys, "key"),
    signingFolder: join(keys, "signing"),
    store,
    version: "0.0.0",
  });
}

function photosInMemory(): PhotoFiles {
  const kept = new Map<string, Buffer>();
  return {
    keep: (picture) => {
      kept.set(digestOf(picture), Buffer.from(picture));
      return Promise.resolve(digestOf(picture));
    },
    read: (digest) => Promise.resolve(kept.get(digest) ?? null),
  };
}

const sha256 = (content: string | Uint8Array): string => createHash("sha256").update(content).digest("hex");

/** Papers as HTML, kept in memory; there is no compiler. */
function papersInMemory(): PaperTools {
  const kept = new Map<string, Uint8Array>();
  const record = (number: string): string => `${fileName(number, sha256)}.issue.json`;
  const write = (name: string, bytes: Uint8Array | string): Promise<string> => {
    kept.set(name, Buffer.from(bytes));
    return Promise.resolve(name);
  };
  const folder: IssueFolder = {
    write,
    read: (name) => Promise.resolve(kept.get(name) ?? null),
    names: () => Promise.resolve([...kept.keys()].filter((name) => name.endsWith(".issue.json"))),
    keep: async (one) => {
      await write(record(one.issue.number), issueText(one));
    },
    latest: (number) => {
      const bytes = kept.get(record(number));
      return Promise.resolve(
        bytes === undefined ? null : (readIssue(Buffer.from(bytes).toString(), sha256) ?? "unreadable"),
      );
    },
  };
  const openFolder = (): Promise<IssueFolder> => Promise.resolve(folder);
  return {
    openFolder,
    digest: sha256,
    digestOfBytes: sha256,
    close: () => Promise.resolve(),
    run: (job) =>
      runJob(job, {
        openFolder,
        digest: sha256,
        digestOfBytes: sha256,
        signerOf: (pem) => {
          const key = createPrivateKey(pem);
          const publicKey = createPublicKey(key).export({ format: "der", type: "spki" }).toString("base64");
          return (file, bytes) =>
            signatureText({ file, publicKey, signature: sign(null, bytes, key).toString("base64") });
        },
        typesetter: () => Promise.resolve({ missing: "tests have no compiler" }),
      }),
  };
}

/** Asks a served desk as the bearer of a token; what is no text and no bytes goes as JSON. */
export async function askDesk(
  { app }: ServedDesk,
  token: string,
  [method, url]: readonly [method: "GET" | "POST" | "PUT", url: string],
  body?: unknown,
  headers: Readonly<Record<string, string>> = {},
) {
  const raw = typeof body === "string" || body instanceof Buffer;
  const type = body instanceof Buffer ? "application/octet-stream" : raw ? "text/yaml" : "application/json";
  const reply = await app.inject({
    method,
    url,
    headers: {
      authorization: `Bearer ${token}`,
      ...(body === undefined ? {} : { "content-type": type }),
      ...headers,
    },
    ...(body === undefined ? {} : { payload: raw ? body : JSON.stringify(body) }),
  });
  const json = reply.headers["content-type"]?.toString().includes("json") ?? false;
  const said = (json ? reply.json<unknown>() : {}) as never;
  return {
    status: reply.statusCode,
    said,
    text: reply.body,
    bytes: reply.rawPayload,
    headers: reply.headers,
  };
}
