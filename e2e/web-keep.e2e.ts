import { type Browser, chromium, type Page } from "@playwright/test";
import { build, type Plugin } from "esbuild";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type DeskProcess, startDesk } from "./desk-process.ts";
import { CLAUSES } from "./keep/desk-contract.ts";
import { HTTP_CLAUSES } from "./keep/http-clauses.ts";
import { BROWSER, newContext, newPage } from "./web-browser.ts";

let desk: DeskProcess;
let browser: Browser;
let held: ReadonlyMap<string, string | null>;

/** As in the app's own build: the packages are pure, so what is not used of them is left out, with libraries that want Node. */
const onlyWhatIsUsed: Plugin = {
  name: "only-what-is-used",
  setup: (building) => {
    building.onResolve({ filter: new RegExp(".") }, async ({ path, pluginData, ...from }) => {
      if (pluginData === "resolved" || from.kind === "entry-point") return undefined;
      const found = await building.resolve(path, { ...from, pluginData: "resolved" });
      return { ...found, sideEffects: !/\/packages\/|\/csv-parse\//u.test(found.path) };
    });
  },
};

/** The contract as a script for the browser, where the real database and the real desk are. */
async function contractScript(): Promise<string> {
  const { outputFiles } = await build({
    entryPoints: ["e2e/keep/in-page.ts"],
    bundle: true,
    format: "iife",
    target: "es2023",
    write: false,
    plugins: [onlyWhatIsUsed],
  });
  return outputFiles[0]!.text;
}

beforeAll(async () => {
  browser = await chromium.launch(BROWSER);
  desk = await startDesk();
  await desk.openCase("keeping");
  const { page, complaints } = await newPage(await newContext(browser));
  await page.goto(desk.joinUrl);
  await page.getByLabel("Name", { exact: true }).fill("Ann Lee");
  await page.getByLabel("Password").fill("four plain words here");
  await page.getByRole("button", { name: "Make the account" }).click();
  await page.getByRole("heading", { name: "Ann Lee" }).waitFor();
  const body = await contractScript();
  await page.route("**/contract.js", (route) => route.fulfill({ contentType: "text/javascript", body }));
  await page.addScriptTag({ url: `${desk.url}/contract.js` });
  expect(complaints).toEqual([]);
  const results = await page.evaluate(() =>
    (globalThis as unknown as { holdAll: () => Promise<[string, string | null][]> }).holdAll(),
  );
  held = new Map(results);
});
afterAll(async () => {
  await browser.close();
  await desk.stop();
});

describe("a keeper of visits in a real browser", () => {
  const sentences = [
    ...CLAUSES.map(({ sentence }) => `the device ${sentence}`),
    ...[...CLAUSES, ...HTTP_CLAUSES].map(({ sentence }) => `the desk over HTTP ${sentence}`),
  ];
  it.each(sentences)("%s", (sentence) => {
    expect(held.get(sentence)).toBeNull();
  });

  it("adds to what an older version kept on the device, and loses nothing of it", async () => {
    const { page } = await newPage(await newContext(browser));
    await page.goto(`${desk.url}/healthz`);
    await page.evaluate(
      () =>
        new Promise<void>((kept, failed) => {
          const opening = indexedDB.open("earthbell", 2);
          opening.onupgradeneeded = () => {
            for (const name of ["visits", "sites"]) opening.result.createObjectStore(name, { keyPath: "id" });
            opening.result.createObjectStore("scores", { keyPath: "exercise" });
            opening.result.createObjectStore("photos", { keyPath: "id" }).createIndex("visit", "visit");
          };
          opening.onerror = () => {
            failed(new Error("the older version could not be written"));
          };
          opening.onsuccess = () => {
            const score = { exercise: 7, openings: 2, halvingOpenings: 4, minutes: 3, right: true };
            const work = opening.result.transaction("scores", "readwrite");
            work.objectStore("scores").put({ ...score, on: "2026-02-03" });
            work.oncomplete = () => {
              opening.result.close();
              kept();
            };
          };
        }),
    );
    await page.goto(`${desk.url}/learn`);
    await expect
      .poll(async () => await keptBy(page), { timeout: 30_000 })
      .toEqual({ version: 3, openings: 2 });
  });
});

/** What the newest version has of that score. */
async function keptBy(page: Page): Promise<{ readonly version: number; readonly openings: unknown }> {
  return await page.evaluate(
    () =>
      new Promise((said, failed) => {
        const opening = indexedDB.open("earthbell");
        opening.onerror = () => {
          failed(new Error("nothing is kept"));
        };
        opening.onsuccess = () => {
          const { version } = opening.result;
          const asked = opening.result.transaction("scores").objectStore("scores").get(7);
          asked.onsuccess = () => {
            opening.result.close();
            said({
              version,
              openings: (asked.result as { openings?: unknown } | undefined)?.openings ?? null,
            });
          };
        };
      }),
  );
}
