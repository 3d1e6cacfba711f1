import { assessSite } from "@earthbell/engine";
import type { FastifyInstance } from "fastify";
import { readFileSync } from "node:fs";
import { Registry } from "prom-client";
import { type DeskStore, openStore } from "../store/index.ts";
import { wordsFor } from "../tell/words/words.ts";
import { digestOf, type PhotoFiles } from "../visits/photo-files.ts";
import { createWatch, type Watch } from "../watch/index.ts";
import { buildServer } from "./server.ts";

/** Before dawn at the site, so that no morning check is missed yet. */
export const DAWN = Date.UTC(2026, 10, 24, 17, 0);
export const ORIGIN = "https://desk.example.org";
export const CREAMERY = readFileSync(
  new URL("../../../../demo/sites/creamery.yaml", import.meta.url),
  "utf8",
);
const log = { info: () => undefined, warn: () => undefined, error: () => undefined };

export interface ServedDesk {
  readonly store: DeskStore;
  readonly watch: Watch;
  readonly app: FastifyInstance;
  close(): Promise<void>;
}

/** A desk behind its HTTP side, with a store in memory and a clock that is set by hand. */
export async function servedDesk(now: () => number): Promise<ServedDesk> {
  const clock = { now, pause: () => Promise.resolve() };
  const store = await openStore({ kind: "sqlite", file: ":memory:" });
  const watch = createWatch({
    store,
    clock,
    log,
    words: wordsFor,
    channels: ["email"],
    keepers: [],
    acknowledgeAt: `${ORIGIN}/a/`,
    linkHoldsMs: 7 * 24 * 3_600_000,
    assess: (site) => assessSite(site, { onDate: "2026-11-25" }),
  });
  await watch.start();
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
    photos: photosInMemory(),
    origin: () => ORIGIN,
    cookieName: "__Host-earthbell",
    webFolder: null,
    behindProxy: false,
  });
  const close = async (): Promise<void> => {
    await app.close();
    await store.close();
  };
  return { store, watch, app, close };
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
