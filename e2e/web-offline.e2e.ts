import type { Page } from "@playwright/test";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import {
  BROWSER,
  beginVisit,
  enterReading,
  makeSure,
  newContext,
  newPage,
  openWeb,
  type OpenWeb,
} from "./web-browser.ts";
import { startWebServer } from "./web-server.ts";

let web: OpenWeb;
beforeAll(async () => {
  web = await openWeb();
});
afterAll(async () => {
  await web.browser.close();
});

async function installed(page: Page): Promise<void> {
  await page.getByText("works without signal").waitFor();
}

describe("on a roof without signal", () => {
  it("keeps every reading, and what was half typed, through a killed server, a reload and a closed tab", async () => {
    const context = await newContext(web.browser);
    const first = (await newPage(context)).page;
    await first.goto(web.server.address);
    await installed(first);
    await web.server.stop();
    await context.setOffline(true);

    await first.reload();
    await beginVisit(first, web.server.address, 20);
    await makeSure(first);
    await enterReading(first, "800");
    await enterReading(first, "517.4");
    await first.locator("input.big").pressSequentially("27");
    await first.getByText("Saved on this device.").waitFor();
    const address = first.url();
    await first.close({ runBeforeUnload: false });

    const { page, complaints } = await newPage(context);
    await page.goto(address);
    await page.locator(".verdict").waitFor();
    expect(await page.getByRole("button", { name: /^Take away reading/u }).count()).toBe(2);
    expect(await page.locator("input.big").inputValue()).toBe("27");
    await enterReading(page, "278.6");
    await page.locator(".verdict").filter({ hasText: "modules 7 and 8" }).waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it("opens every place, and calculates there, with the server gone", async () => {
    const server = await startWebServer();
    const context = await newContext(web.browser);
    const { page } = await newPage(context);
    await page.goto(server.address);
    await installed(page);
    await server.stop();
    await context.setOffline(true);
    for (const place of ["visits", "sites", "advise", "rules", "learn", "rules/au-nz-5033-2014"]) {
      await page.goto(`${server.address}/${place}`);
      await page.getByRole("heading", { level: 1 }).waitFor();
    }
    await page.goto(`${server.address}/sites`);
    await page.getByRole("button", { name: /two invented examples/u }).click();
    await page.getByRole("link", { name: /Ferry shed/u }).click();
    await page.getByRole("heading", { name: /Path P1, annunciator/u }).waitFor();
    await context.close();
  });

  it("keeps a photo as it was taken, and a visit in a browser that was killed and started again", async () => {
    const profile = mkdtempSync(join(tmpdir(), "earthbell-profile-"));
    const server = await startWebServer();
    const start = async () => await web.browser.browserType().launchPersistentContext(profile, BROWSER);
    const picture = Buffer.from(
      "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==",
      "base64",
    );
    const before = await start();
    const first = await before.newPage();
    await first.goto(server.address);
    await installed(first);
    await beginVisit(first, server.address, 20);
    await first
      .getByLabel(/^Add a photo/u)
      .setInputFiles({ name: "clip.png", mimeType: "image/png", buffer: picture });
    await first.getByRole("img", { name: /^Photo clip\.png/u }).waitFor();
    await makeSure(first);
    await enterReading(first, "800");
    await first.getByText("Saved on this device.").waitFor();
    const address = first.url();
    await server.stop();
    await before.close();

    const after = await start();
    const page = await after.newPage();
    await page.goto(address);
    await page.getByRole("button", { name: "Take away reading 1" }).waitFor();
    const coming = page.waitForEvent("download");
    await page
      .getByRole("listitem")
      .filter({ has: page.getByRole("img") })
      .getByRole("button", { name: "Save" })
      .click();
    const saved = await (await coming).createReadStream();
    const parts: Buffer[] = [];
    for await (const part of saved) parts.push(part as Buffer);
    expect(Buffer.concat(parts).equals(picture)).toBe(true);
    await after.close();
    rmSync(profile, { recursive: true, force: true });
  });
});
