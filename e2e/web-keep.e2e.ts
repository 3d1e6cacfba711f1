import { type Browser, chromium } from "@playwright/test";
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
});
