import { type Browser, type BrowserContext, chromium, type Page } from "@playwright/test";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type DeskProcess, type OpenCase, startDesk } from "./desk-process.ts";
import { BROWSER, newContext, newPage } from "./web-browser.ts";

/** What others did is there in the time that a busy machine needs. */
const SOON = { timeout: 60_000 };

let desk: DeskProcess;
let browser: Browser;
let context: BrowserContext;
let page: Page;
let fault: OpenCase;

beforeAll(async () => {
  browser = await chromium.launch(BROWSER);
  desk = await startDesk();
  fault = await desk.openCase("keys");
  context = await newContext(browser);
  ({ page } = await newPage(context));
  await page.goto(desk.joinUrl);
});
afterAll(async () => {
  await browser.close();
  await desk.stop();
});

/** What has the focus: its name as it is read aloud, and its kind. */
async function focused(): Promise<{ readonly name: string; readonly kind: string }> {
  return await page.evaluate(() => {
    const active = document.activeElement;
    // The page itself takes the focus after a move; nothing is pressed on it.
    const control = active?.matches("a, button, input, textarea, select, summary") ?? false;
    const element = control ? (active as HTMLInputElement) : null;
    const label = element?.labels?.[0]?.textContent ?? element?.getAttribute("aria-label");
    return { name: (label ?? element?.textContent ?? "").trim(), kind: element?.type ?? "" };
  });
}

/** Presses Tab until something of this name has the focus; a page on which it cannot be reached so fails. */
async function tabTo(name: RegExp, kind?: string): Promise<void> {
  for (let press = 0; press < 150; press++) {
    const at = await focused();
    if (name.test(at.name) && (kind === undefined || at.kind === kind)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`Tab never reached ${name.source}`);
}

async function press(name: RegExp): Promise<void> {
  await tabTo(name);
  await page.keyboard.press("Enter");
}

async function type(name: RegExp, text: string): Promise<void> {
  await tabTo(name);
  await page.keyboard.type(text);
}

/** Opens the palette and goes where a few letters lead. */
async function palette(letters: string): Promise<void> {
  await page.keyboard.press("Control+k");
  await page.getByRole("searchbox").waitFor();
  await page.keyboard.type(letters);
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("Enter");
}

describe("by keyboard alone", () => {
  it("a case goes from the first page through a visit to its signed close", async () => {
    await page.getByRole("button", { name: "Make the account" }).waitFor();
    await type(/^Name/u, "Ann Lee");
    await type(/^Password/u, "four plain words here");
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "Ann Lee" }).waitFor();

    await press(/^Go on to what needs a person/u);
    await page.getByRole("link", { name: "Hall of keys, array A1" }).waitFor();
    await press(/^Hall of keys, array A1/u);
    await page.getByRole("heading", { name: "Before anybody goes there" }).waitFor();
    await press(/^Acknowledge as Ann Lee/u);
    await page.getByText("Every sign of this case has been answered").waitFor();

    await press(/^Begin a visit there/u);
    await page.getByRole("heading", { name: "Begin a visit" }).waitFor();
    await expect
      .poll(async () => await page.getByLabel("Where").inputValue(), SOON)
      .toContain("Hall of keys");
    await press(/^Begin$/u);
    const step = page.getByRole("region", { name: "Next step" });
    await step.getByRole("checkbox").first().waitFor();
    for (let left = await step.getByRole("checkbox").count(); left > 0; left--) {
      await page.keyboard.press("Tab");
      await tabTo(/./u, "checkbox");
      await page.keyboard.press("Space");
    }
    await tabTo(/^Reading 1 of 3/u);
    for (const [i, value] of ["800", "517.4", "278.6"].entries()) {
      await page.keyboard.type(value);
      await page.keyboard.press("Enter");
      await page.getByRole("button", { name: `Take away reading ${i + 1}` }).waitFor();
    }
    await page.locator(".verdict").filter({ hasText: "modules 7 and 8" }).waitFor();
    await press(/^Put this finding on record/u);
    await page.locator(".state").filter({ hasText: "At the desk" }).waitFor();

    await fault.fault(false);
    await palette("Cases");
    await page.getByRole("link", { name: /keys, array A1/u }).waitFor();
    await press(/keys, array A1/u);
    await page.getByRole("button", { name: "Sign as Ann Lee" }).waitFor();
    await type(/^What was found to be the cause/u, "Connector at junction 7 let water in");
    await press(/^Sign as Ann Lee/u);
    await page.getByText(/^Signed by Ann Lee/u).waitFor();
    await page.getByText(/^Required: .*MΩ/u).waitFor();
    await type(/^Measured/u, "50 MΩ");
    await page.keyboard.press("Enter");
    await page
      .getByRole("listitem")
      .filter({ hasText: /Done.*measured by Ann Lee/su })
      .waitFor();
    await press(/^The owner has been told by Ann Lee/u);
    await expect
      .poll(async () => await page.locator(".state").filter({ hasText: "Missing" }).count(), SOON)
      .toBe(0);
    await press(/^Close the case as Ann Lee/u);
    await page.getByText(/opened .*, closed by Ann Lee/u).waitFor();
    await page.getByText(/Visit ".*" found: .*modules 7 and 8/u).waitFor();
  });
});
