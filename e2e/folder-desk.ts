import { chromium, type Page } from "@playwright/test";
import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect } from "vitest";
import { ended, saying } from "./desk-process.ts";
import { accessFaults, BROWSER, newContext, newPage } from "./web-browser.ts";

/** A desk on a folder of its own, as for real use, and the first person signed in at it. */
export interface FolderDesk {
  readonly folder: string;
  readonly url: string;
  readonly page: Page;
  readonly complaints: string[];
  readonly stop: () => Promise<void>;
}

/**
 * @param settings  desk.yaml
 * @param sites     site files by id
 */
export async function startFolderDesk(
  settings: string,
  sites: Readonly<Record<string, string>>,
): Promise<FolderDesk> {
  const folder = mkdtempSync(join(tmpdir(), "earthbell-desk-"));
  mkdirSync(join(folder, "sites"));
  writeFileSync(join(folder, "desk.yaml"), settings);
  for (const [id, text] of Object.entries(sites)) writeFileSync(join(folder, "sites", `${id}.yaml`), text);
  const child = spawn(process.execPath, ["dist/earthbell.js", "desk", "--data", folder, "--port", "0"]);
  const says = saying(child);
  const browser = await chromium.launch(BROWSER);
  const { page, complaints } = await newPage(await newContext(browser));
  const [, link = "", url = ""] = await says(/sign in\s+((http:\S+)\/join\/\S+)\n/u);
  await page.goto(link);
  await page.getByLabel("Name", { exact: true }).fill("Ann Lee");
  await page
    .getByLabel(/^Password/u)
    .first()
    .fill("four plain words here");
  await page.getByRole("button", { name: "Make the account" }).click();
  await page.getByRole("heading", { name: "Ann Lee" }).waitFor();
  const stop = async (): Promise<void> => {
    await browser.close();
    await ended(child);
    rmSync(folder, { recursive: true });
  };
  return { folder, url, page, complaints, stop };
}

/** Both papers, and the narrowest screen: nothing is cut off there, and nothing scrolls sideways. */
export async function expectReadable(page: Page): Promise<void> {
  for (const colorScheme of ["light", "dark"] as const) {
    await page.emulateMedia({ colorScheme });
    expect(await accessFaults(page)).toEqual([]);
  }
  const whole = page.viewportSize()!;
  await page.setViewportSize({ width: 320, height: 700 });
  await expect
    .poll(async () => await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth))
    .toBeLessThanOrEqual(0);
  await page.setViewportSize(whole);
}
