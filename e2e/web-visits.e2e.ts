import { type Browser, type BrowserContext, chromium, type Page } from "@playwright/test";
import type { HandedVisit } from "@earthbell/model";
import { createHash } from "node:crypto";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type DeskProcess, startDesk } from "./desk-process.ts";
import {
  accessFaults,
  beginVisit,
  BROWSER,
  enterReading,
  makeSure,
  newContext,
  newPage,
  onScreen,
} from "./web-browser.ts";

const PASSWORD = "four plain words here";
const PICTURE = Buffer.from(
  "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==",
  "base64",
);

/** What others did is there in the time that a busy machine needs. */
const SOON = { timeout: 60_000 };

let desk: DeskProcess;
let browser: Browser;
let ann: BrowserContext;
let ben: BrowserContext;
let annPage: Page;
let benPage: Page;
let caseId: string;
let address: string;

async function join(link: string, name: string): Promise<readonly [BrowserContext, Page]> {
  const context = await newContext(browser, { viewport: { width: 390, height: 844 } });
  const { page } = await newPage(context);
  await page.goto(link);
  await page.getByLabel("Name", { exact: true }).fill(name);
  await page.getByLabel("Password").fill(PASSWORD);
  await page.getByRole("button", { name: "Make the account" }).click();
  await page.getByRole("heading", { name }).waitFor();
  return [context, page];
}

const visitId = (): string => new URL(address).pathname.split("/").at(-1)!;
const handed = async (): Promise<HandedVisit> => (await desk.ask(`/api/visits/${visitId()}`)) as HandedVisit;
const readings = (page: Page) => page.getByRole("button", { name: /^Take away reading/u });
const atDesk = async (page: Page): Promise<void> => {
  await page.locator(".state").filter({ hasText: "At the desk" }).waitFor();
};
/** Figures of the finding whose digits and unit stand on more than one line. */
async function figuresInPieces(page: Page): Promise<readonly string[]> {
  const figures = page.getByRole("region", { name: "What the readings say" }).locator("td:nth-child(2)");
  await figures.first().waitFor();
  return await figures.evaluateAll((cells) =>
    cells.flatMap((cell) => {
      const text = document.createRange();
      text.selectNodeContents(cell);
      const lines = new Set([...text.getClientRects()].map(({ bottom }) => Math.round(bottom)));
      return lines.size > 1 ? [cell.textContent] : [];
    }),
  );
}
async function valuesAtDesk(): Promise<readonly number[]> {
  const { entries } = await handed();
  return entries.flatMap((entry) => (entry.kind === "reading" ? [entry.reading.value] : []));
}

beforeAll(async () => {
  browser = await chromium.launch(BROWSER);
  desk = await startDesk();
  ({ id: caseId } = await desk.openCase("roof"));
  [ann, annPage] = await join(desk.joinUrl, "Ann Lee");
  const guest = { role: "technician", sites: null };
  const { url } = (await desk.ask("/api/invitations", "POST", guest)) as { url: string };
  [ben, benPage] = await join(url, "Ben Orr");
});
afterAll(async () => {
  await browser.close();
  await desk.stop();
});

describe("a visit begun from a case", () => {
  it("knows the strings of the array, and is at the desk at once while there is signal", async () => {
    await annPage.goto(`${desk.url}/cases/${caseId}`);
    await annPage.getByRole("button", { name: "Begin a visit there" }).click();
    await annPage.getByRole("heading", { name: "Begin a visit" }).waitFor();
    await expect
      .poll(async () => await annPage.getByLabel("Where").inputValue(), SOON)
      .toContain("Hall of roof");
    await annPage.getByRole("button", { name: "Begin", exact: true }).click();
    await atDesk(annPage);
    address = annPage.url();
    await annPage.getByText("works without signal").waitFor({ state: "attached" });
    expect(await handed()).toMatchObject({ site: "roof", case: caseId, by: "Ann Lee", entries: [] });
  });

  it("opens on another person's phone from the case", async () => {
    await benPage.goto(`${desk.url}/cases/${caseId}`);
    await benPage.getByRole("link", { name: /^Hall of roof, A1/u }).click();
    await benPage.getByRole("button", { name: "I have read these" }).waitFor();
    expect(new URL(benPage.url()).pathname).toBe(new URL(address).pathname);
    await benPage.getByText("works without signal").waitFor({ state: "attached" });
    await makeSure(benPage);
  });

  it("says in words what waits without signal, keeps it through a killed tab, and hands each over once", async () => {
    await ann.setOffline(true);
    await makeSure(annPage);
    await enterReading(annPage, "800");
    await enterReading(annPage, "517.4");
    await annPage
      .getByLabel(/^Add a photo/u)
      .setInputFiles({ name: "clip.png", mimeType: "image/png", buffer: PICTURE });
    await annPage
      .getByRole("status")
      .filter({ hasText: "2 entries and 1 photo, kept on this device" })
      .waitFor();
    expect(await accessFaults(annPage)).toEqual([]);
    await annPage.close({ runBeforeUnload: false });
    annPage = (await newPage(ann)).page;
    await annPage.goto(address);
    await readings(annPage).nth(1).waitFor();
    await annPage
      .getByRole("status")
      .filter({ hasText: "2 entries and 1 photo, kept on this device" })
      .waitFor();
    expect(await figuresInPieces(annPage)).toEqual([]);
    expect(await valuesAtDesk()).toEqual([]);
    await ann.setOffline(false);
    await atDesk(annPage);
    expect(await valuesAtDesk()).toEqual([800, 517.4]);
    const digest = createHash("sha256").update(PICTURE).digest("hex");
    expect((await handed()).photos).toMatchObject([{ name: "clip.png", digest, by: "Ann Lee" }]);
  });

  it("holds the whole number pad on a phone's screen in roof mode, upright and lying down", async () => {
    await annPage.getByRole("button", { name: "Roof" }).click();
    const takes = annPage.getByRole("button", { name: "Take this reading" });
    await expect.poll(async () => await onScreen(takes), SOON).toBe(true);
    await annPage.setViewportSize({ width: 844, height: 390 });
    for (const key of [takes, annPage.getByRole("button", { name: "0", exact: true })])
      await expect.poll(async () => await onScreen(key), SOON).toBe(true);
    await annPage.setViewportSize({ width: 390, height: 844 });
    await annPage.getByRole("button", { name: "Roof" }).click();
  });

  it("shows the readings and the photo of one person to the other, live", async () => {
    await readings(benPage).nth(1).waitFor();
    await benPage.getByRole("img", { name: /^Photo clip\.png/u }).waitFor();
    expect(await readings(benPage).count()).toBe(2);
  });

  it("lays what two people read differently without signal side by side, and one of them chooses", async () => {
    await Promise.all([ann.setOffline(true), ben.setOffline(true)]);
    await enterReading(annPage, "278.6");
    // Ben measures from the beginning; of Ann's readings he has seen the first two and not the third.
    await enterReading(benPage, "800.5");
    await enterReading(benPage, "517.9");
    await enterReading(benPage, "290.1");
    await Promise.all([ann.setOffline(false), ben.setOffline(false)]);
    await Promise.all([atDesk(annPage), atDesk(benPage)]);
    for (const page of [annPage, benPage]) {
      await page.getByRole("button", { name: /^Use 278\.6\sV/u }).waitFor();
      await page.getByRole("button", { name: /^Use 290\.1\sV/u }).waitFor();
      expect(await page.getByRole("button", { name: /^Use /u }).count()).toBe(2);
      expect(await readings(page).count()).toBe(6);
      // Located by readings of which one is wrong: nothing is parted for that.
      const step = page.getByRole("region", { name: "Next step" });
      await step.getByText(/contradict each other/u).waitFor();
      expect(await step.getByRole("checkbox").count()).toBe(0);
    }
    await expect.poll(async () => (await valuesAtDesk()).length, SOON).toBe(6);
    expect((await valuesAtDesk()).toSorted((a, b) => a - b)).toEqual([
      278.6, 290.1, 517.4, 517.9, 800, 800.5,
    ]);
    await benPage.getByRole("button", { name: /^Use 278\.6\sV/u }).click();
    await expect.poll(async () => await readings(annPage).count(), SOON).toBe(5);
    expect(await annPage.getByRole("button", { name: /^Use /u }).count()).toBe(0);
    await annPage.getByText(/contradict each other/u).waitFor({ state: "detached" });
  });

  it("merges two tabs of one device without loss or doubling", async () => {
    const second = (await newPage(ann)).page;
    await second.goto(address);
    await readings(second).nth(4).waitFor();
    await second.getByRole("button", { name: "Take away reading 1", exact: true }).click();
    await expect.poll(async () => await readings(annPage).count(), SOON).toBe(4);
    await annPage.getByRole("button", { name: "Take away reading 1", exact: true }).click();
    await expect.poll(async () => await readings(second).count(), SOON).toBe(3);
    await second.getByRole("button", { name: /^Undo/u }).click();
    await expect.poll(async () => await readings(annPage).count(), SOON).toBe(4);
    await annPage.getByRole("button", { name: /^Undo/u }).click();
    for (const page of [annPage, second, benPage])
      await expect.poll(async () => await readings(page).count(), SOON).toBe(5);
    await second.close();
  });

  it("shows what one person enters while the other, back in signal, does not yet hear the desk again", async () => {
    await ben.setOffline(true);
    let letThrough = (): void => undefined;
    const held = new Promise<void>((through) => {
      letThrough = through;
    });
    await ben.route(/\/api\/live/u, async (route) => {
      await held;
      await route.continue();
    });
    const listens = benPage.waitForRequest(/\/api\/live/u);
    const caughtUp = benPage.waitForResponse(new RegExp(`/api/visits/${visitId()}$`, "u"));
    await ben.setOffline(false);
    await Promise.all([listens, caughtUp]);
    const before = (await handed()).entries.length;
    await annPage.getByRole("button", { name: "Take away reading 1", exact: true }).click();
    await expect.poll(async () => (await handed()).entries.length, SOON).toBe(before + 1);
    letThrough();
    await expect.poll(async () => await readings(benPage).count(), SOON).toBe(4);
    await annPage.getByRole("button", { name: /^Undo/u }).click();
    await expect.poll(async () => await readings(benPage).count(), SOON).toBe(5);
    await ben.unroute(/\/api\/live/u);
    await atDesk(annPage);
  });

  it("puts what was found on its case, once", async () => {
    await annPage.getByRole("button", { name: "Put this finding on record and on its case" }).click();
    await annPage.getByText(/^On record since/u).waitFor();
    await atDesk(annPage);
    await annPage.reload();
    await atDesk(annPage);
    const { case: one } = (await desk.ask(`/api/cases/${caseId}`)) as {
      case: { timeline: readonly { text: string; by: string }[] };
    };
    const found = one.timeline.filter(({ text }) => text.includes(" found: "));
    expect(found.map(({ by }) => by)).toEqual(["Ann Lee"]);
  });

  it("is quiet while somebody comes back to it, with a reason that everybody sees, and is returned", async () => {
    await annPage.goto(`${desk.url}/cases/${caseId}`);
    await annPage.getByText("Keep this alarm quiet").click();
    await annPage.getByLabel("Reason").fill("parts come tomorrow");
    await annPage.getByRole("button", { name: "Keep it quiet" }).click();
    await annPage.getByText(/^Put aside by Ann Lee until .*: parts come tomorrow/u).waitFor();
    await benPage.goto(`${desk.url}/cases/${caseId}`);
    await benPage.getByText(/^Put aside by Ann Lee until/u).waitFor();
    await benPage.getByRole("button", { name: "Take it off the shelf" }).click();
    await annPage.getByText("Keep this alarm quiet").waitFor();
  });
});

describe("a visit begun by hand", () => {
  it("is handed over afterwards, also when its site was first typed wrong without signal", async () => {
    const cellar = await desk.openCase("cellar");
    await beginVisit(annPage, desk.url, 20);
    await makeSure(annPage);
    await enterReading(annPage, "800");
    await annPage
      .getByLabel(/^Add a photo/u)
      .setInputFiles({ name: "clip.png", mimeType: "image/png", buffer: PICTURE });
    await annPage.getByAltText(/^Photo clip.png/u).waitFor();
    address = annPage.url();
    await annPage.getByRole("textbox", { name: /^Notes/u }).fill("wet connector");
    await annPage.emulateMedia({ media: "print" });
    await annPage.getByRole("region", { name: "Notes" }).getByText("wet connector").waitFor();
    expect(await annPage.getByText("Enter a reading of your own").isVisible()).toBe(false);
    await annPage.emulateMedia({ media: null });

    await ann.setOffline(true);
    await annPage.getByLabel("At the site").fill("celar");
    await annPage.getByRole("button", { name: "Hand it to the desk" }).click();
    await annPage.getByRole("status").filter({ hasText: "kept on this device" }).waitFor();
    await ann.setOffline(false);
    await annPage.locator(".state").filter({ hasText: "Not sent" }).waitFor();
    expect(await accessFaults(annPage)).toEqual([]);

    await annPage.getByLabel("Of the case").selectOption(cellar.id);
    await annPage.getByRole("button", { name: "Hand it to the desk" }).click();
    await atDesk(annPage);
    expect(await valuesAtDesk()).toEqual([800]);
    expect(await handed()).toMatchObject({ site: "cellar", case: cellar.id, photos: [{ name: "clip.png" }] });
  });
});
