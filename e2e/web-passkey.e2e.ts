import { type Browser, type BrowserContext, chromium, type Page } from "@playwright/test";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type DeskProcess, startDesk } from "./desk-process.ts";
import { BROWSER, newContext, newPage } from "./web-browser.ts";

let desk: DeskProcess;
let browser: Browser;
let context: BrowserContext;
let page: Page;
/** Passkeys belong to a name; the same desk in figures has none. */
let named: string;

beforeAll(async () => {
  browser = await chromium.launch(BROWSER);
  desk = await startDesk();
  named = desk.url.replace("127.0.0.1", "localhost");
  context = await newContext(browser);
  ({ page } = await newPage(context));
  const devices = await context.newCDPSession(page);
  await devices.send("WebAuthn.enable");
  await devices.send("WebAuthn.addVirtualAuthenticator", {
    options: {
      protocol: "ctap2",
      transport: "internal",
      hasResidentKey: true,
      hasUserVerification: true,
      isUserVerified: true,
      automaticPresenceSimulation: true,
    },
  });
});
afterAll(async () => {
  await browser.close();
  await desk.stop();
});

describe("a passkey of this device", () => {
  it("is added, and signs its person in after signing out, without a password", async () => {
    await page.goto(desk.joinUrl.replace(desk.url, named));
    await page.getByLabel("Name", { exact: true }).fill("Ann Lee");
    await page.getByLabel("Password").fill("four plain words here");
    await page.getByRole("button", { name: "Make the account" }).click();
    await page.getByLabel("Called").fill("Work phone");
    await page.getByRole("button", { name: "Add a passkey of this device" }).click();
    await page.getByText('Passkey "Work phone" is added.').first().waitFor();
    await page.getByRole("button", { name: "Sign this browser out" }).click();
    await page.getByRole("button", { name: "With a passkey" }).click();
    await page.getByRole("heading", { name: "Ann Lee" }).waitFor();
    const people = (await desk.ask("/api/people")) as readonly { name: string; passkeys: number }[];
    expect(people).toMatchObject([{ name: "Ann Lee", passkeys: 1 }]);
  });

  it("is not offered where the address is in figures, and the page says why", async () => {
    const other = await newContext(browser);
    const { page: inFigures } = await newPage(other);
    await inFigures.goto(`${desk.url}/account`);
    await inFigures.getByLabel("Name", { exact: true }).fill("Ann Lee");
    await inFigures.getByLabel("Password").fill("four plain words here");
    expect(await inFigures.getByRole("button", { name: "With a passkey" }).count()).toBe(0);
    await inFigures.getByRole("button", { name: "Sign in" }).click();
    await inFigures.getByText("They need an encrypted address (https) with a name").waitFor();
    await other.close();
  });
});
