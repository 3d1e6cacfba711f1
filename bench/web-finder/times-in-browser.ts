import type { Visit } from "@earthbell/engine";
import type { Browser, Page } from "@playwright/test";
import { build } from "esbuild";

export interface Times {
  /** The first finding of a page that was just opened [ms]. */
  readonly firstMs: number;
  readonly medianMs: number;
  readonly p95Ms: number;
}

interface Timed {
  readonly visit: Visit;
  readonly runs: number;
  /** How many times slower the browser makes the processor. */
  readonly slowed: number;
  readonly in: "page" | "worker";
}

const ADDRESS = "http://bench.invalid/";

/** The engine as a script for a browser. */
export async function engineScript(): Promise<string> {
  const { outputFiles } = await build({
    entryPoints: ["bench/web-finder/in-page.ts"],
    bundle: true,
    minify: true,
    format: "iife",
    target: "es2023",
    write: false,
    logLevel: "warning",
  });
  return outputFiles[0]!.text;
}

/** Times in a page of its own, which talks to nobody. */
export async function timesInBrowser(browser: Browser, script: string, timed: Timed): Promise<Times> {
  const page = await browser.newPage();
  await page.route("**/*", async (route) => {
    const engine = route.request().url().endsWith("engine.js");
    await route.fulfill(
      engine
        ? { contentType: "text/javascript", body: script }
        : { contentType: "text/html", body: "<!doctype html><title>bench</title>" },
    );
  });
  await page.goto(ADDRESS);
  const devtools = await page.context().newCDPSession(page);
  await devtools.send("Emulation.setCPUThrottlingRate", { rate: timed.slowed });
  const times = timed.in === "page" ? await inPage(page, timed) : await inWorker(page, timed);
  await page.close();
  return summed(times);
}

async function inPage(page: Page, { visit, runs }: Timed): Promise<readonly number[]> {
  await page.addScriptTag({ url: `${ADDRESS}engine.js` });
  return await page.evaluate<number[]>(`timesOf(${JSON.stringify(visit)}, ${runs})`);
}

async function inWorker(page: Page, { visit, runs }: Timed): Promise<readonly number[]> {
  return await page.evaluate<number[]>(`new Promise((done, failed) => {
    const worker = new Worker(${JSON.stringify(`${ADDRESS}engine.js`)});
    worker.addEventListener("message", ({ data }) => done(data));
    worker.addEventListener("error", ({ message }) => failed(new Error(message)));
    worker.postMessage(${JSON.stringify({ visit, runs })});
  })`);
}

function summed(times: readonly number[]): Times {
  const [firstMs = Number.NaN, ...rest] = times;
  // What the compiler warms up on is left out of the others.
  const sorted = rest.slice(rest.length >> 2).toSorted((a, b) => a - b);
  const at = (share: number): number =>
    sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
  return { firstMs, medianMs: at(0.5), p95Ms: at(0.95) };
}
