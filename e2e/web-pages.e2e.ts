import type { Page } from "@playwright/test";
import { readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { accessFaults, newContext, newPage, openExample, openWeb, type OpenWeb } from "./web-browser.ts";

let web: OpenWeb;
beforeAll(async () => {
  web = await openWeb();
});
afterAll(async () => {
  await web.close();
});

const PAGES = [
  "/",
  "/visits",
  "/visits/new",
  "EXAMPLE",
  "/sites",
  "/sites/ferry-shed/path",
  "/sites/ferry-shed/duty",
  "/sites/ferry-shed/coverage",
  "/sites/ferry-shed/notice",
  "/sites/ferry-shed/loop",
  "/advise",
  "/rules",
  "/rules/au-nz-5033-2014",
  "/learn",
  "/nowhere",
] as const;

/** Opens each page in turn, with the example visit and the example sites in the database. */
async function eachPage(page: Page, visit: (name: string) => Promise<void>): Promise<void> {
  const { address } = web.server;
  const example = await openExample(page, address);
  await page.goto(`${address}/sites`);
  await page.getByRole("button", { name: /two invented examples/u }).click();
  await page.getByRole("link", { name: /Ferry shed/u }).waitFor();
  for (const name of PAGES) {
    await page.goto(name === "EXAMPLE" ? example : address + name);
    await page.getByRole("heading", { level: 1 }).waitFor();
    await expect
      .poll(async () => await page.getByText(/^(Opening|Calculating)/u).count(), { timeout: 30_000 })
      .toBe(0);
    await visit(name);
  }
}

describe("every page", { timeout: 300_000 }, () => {
  it.each(["light", "dark", "roof"] as const)(
    "passes axe and the page's policy on %s paper",
    async (theme) => {
      const scheme = theme === "dark" ? "dark" : "light";
      const context = await newContext(web.browser, { colorScheme: scheme });
      const { page, complaints } = await newPage(context);
      if (theme === "roof") {
        await page.goto(web.server.address);
        await page.getByRole("button", { name: "Roof" }).click();
      }
      const found: string[] = [];
      await eachPage(page, async (name) => {
        found.push(...(await accessFaults(page)).map((fault) => `${name}: ${fault}`));
      });
      expect(found).toEqual([]);
      expect(complaints).toEqual([]);
      await context.close();
    },
  );

  it.each([
    ["a phone of 320 px", { viewport: { width: 320, height: 640 } }],
    ["a desk screen at 200 %", { viewport: { width: 640, height: 450 }, deviceScaleFactor: 2 }],
  ])("fits %s without scrolling sideways", async (_, options) => {
    const context = await newContext(web.browser, options);
    const { page } = await newPage(context);
    const wide: string[] = [];
    await eachPage(page, async (name) => {
      const [needed, there] = await page.evaluate(
        () => [document.documentElement.scrollWidth, window.innerWidth] as const,
      );
      if (needed > there) wide.push(`${name}: ${needed} px in ${there} px`);
    });
    expect(wide).toEqual([]);
    await context.close();
  });

  it("moves nothing where less motion is asked for", async () => {
    const context = await newContext(web.browser, { reducedMotion: "reduce" });
    const { page } = await newPage(context);
    const moving: string[] = [];
    await eachPage(page, async (name) => {
      const count = await page.evaluate(() => document.getAnimations().length);
      if (count > 0) moving.push(`${name}: ${count}`);
    });
    expect(moving).toEqual([]);
    await context.close();
  });

  it("has a title of its own, one first heading, and a way past the top line", async () => {
    const context = await newContext(web.browser);
    const { page } = await newPage(context);
    const titles: string[] = [];
    await eachPage(page, async (name) => {
      const heading = await page.getByRole("heading", { level: 1 }).textContent();
      expect(await page.title(), name).toBe(`${heading ?? ""} · Earthbell`);
      expect(await page.getByRole("heading", { level: 1 }).count()).toBe(1);
      titles.push(await page.title());
    });
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("Skip to the page");
    expect(new Set(titles).size).toBeGreaterThan(8);
    await context.close();
  });
});

describe("addresses", () => {
  it("can be gone back to and shared", async () => {
    const context = await newContext(web.browser);
    const { page } = await newPage(context);
    await page.goto(web.server.address);
    await page
      .getByRole("navigation", { name: "Places" })
      .getByRole("link", { name: "Rules", exact: true })
      .click();
    await page.getByRole("link", { name: /^AS\/NZS 5033:2014/u }).click();
    await page.getByRole("heading", { name: /^AS\/NZS 5033:2014/u }).waitFor();
    const shared = page.url();
    await page.goBack();
    await page.getByRole("heading", { name: "Rules" }).waitFor();
    await page.goForward();
    await page.getByRole("heading", { name: /^AS\/NZS 5033:2014/u }).waitFor();
    const other = (await newPage(await newContext(web.browser))).page;
    await other.goto(shared);
    await other.getByRole("heading", { name: /^AS\/NZS 5033:2014/u }).waitFor();
    await context.close();
  });

  it("of nothing kept say so instead of failing", async () => {
    const context = await newContext(web.browser);
    const { page, complaints } = await newPage(context);
    for (const address of ["/visits/none", "/sites/none", "/rules/none", "/%E0%A4%A"]) {
      await page.goto(web.server.address + address);
      await page.getByRole("heading", { level: 1 }).waitFor();
    }
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe("the first load", () => {
  it("fetches at most 250 kB of script as sent compressed, and no engine", async () => {
    const context = await newContext(web.browser, { serviceWorkers: "block" });
    const { page } = await newPage(context);
    const scripts = new Set<string>();
    page.on("request", (request) => {
      if (request.url().endsWith(".js")) scripts.add(new URL(request.url()).pathname);
    });
    await page.goto(web.server.address);
    await page.getByRole("heading", { level: 1 }).waitFor();
    const bytes = [...scripts].map((path) => gzipSync(readFileSync(`dist/web${path}`)).length);
    expect(bytes.reduce((sum, size) => sum + size, 0)).toBeLessThan(250_000);
    expect([...scripts].some((path) => path.includes("engine"))).toBe(false);
    await context.close();
  });
});
