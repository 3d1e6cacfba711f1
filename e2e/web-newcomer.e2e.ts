import { type Browser, chromium, type Locator, type Page } from "@playwright/test";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { type DeskProcess, startDesk } from "./desk-process.ts";
import { BROWSER, newContext, newPage } from "./web-browser.ts";

let desk: DeskProcess;
let browser: Browser;
let page: Page;

// A desk of its own for each, so that a second try begins with nobody known as well.
beforeEach(async () => {
  browser = await chromium.launch(BROWSER);
  desk = await startDesk();
  ({ page } = await newPage(await newContext(browser)));
});
afterEach(async () => {
  await browser.close();
  await desk.stop();
});

/**
 * Seconds of the keystroke-level model: pointing 1.1, a press 0.2, making up one's mind 1.35, a typed letter 0.28 [Card, Moran
 * and Newell 1980; memory], and silent reading at 238 words a minute [Brysbaert 2019; memory]. A reckoned time, not a person's.
 */
const PRESS_S = 1.1 + 0.2 + 1.35;
const LETTER_S = 0.28;
const WORD_S = 60 / 238;

/** Somebody who reads every line in the way once, and counts. */
function newcomer(): {
  interactions: number;
  seconds: number;
  press(what: Locator): Promise<void>;
  type(what: Locator, text: string): Promise<void>;
  read(what: Locator): Promise<void>;
} {
  const known = new Set<string>();
  return {
    interactions: 0,
    seconds: 0,
    async press(what) {
      await what.click();
      this.interactions += 1;
      this.seconds += PRESS_S;
    },
    async type(what, text) {
      await what.fill(text);
      this.interactions += 1;
      this.seconds += PRESS_S + text.length * LETTER_S;
    },
    async read(what) {
      // Notes in the margin say where a line is from; nobody new reads them.
      const lines = await what.evaluate((element) => {
        const copy = element.cloneNode(true) as HTMLElement;
        for (const part of copy.querySelectorAll(".note, details > :not(summary)")) part.remove();
        return [
          ...copy.querySelectorAll("h1, h2, h3, legend, p, li:not(:has(p)), label, button, summary"),
        ].map((part) => part.textContent.trim());
      });
      for (const line of lines) {
        if (known.has(line)) continue;
        known.add(line);
        this.seconds += line.split(/\s+/u).filter((word) => /\w/u.test(word)).length * WORD_S;
      }
    },
  };
}

const button = (name: string | RegExp): Locator => page.getByRole("button", { name });

describe("somebody new, with the demonstration and no manual", () => {
  it("goes from a case to the damage through a stand-in meter in under 25 interactions", async () => {
    const me = newcomer();
    await page.goto(desk.joinUrl);
    await me.type(page.getByLabel("Name"), "Ann");
    await me.type(page.getByLabel("Password"), "four plain words");
    await me.press(button("Make the account"));
    await me.press(page.getByRole("link", { name: "Go on to what needs a person" }));
    const unanswered = page.getByRole("listitem").filter({ hasText: "Hennick creamery, array A1" });
    await me.read(unanswered);
    await me.press(unanswered.getByRole("link").first());
    await me.read(page.getByRole("region", { name: "Cautions" }));
    await me.press(button("Begin a visit there"));
    const begin = page.getByRole("button", { name: "Begin", exact: true });
    await page.getByText("3 strings by the site file").waitFor();
    await me.read(page.getByRole("main"));
    await me.press(begin);
    const located = page.locator(".verdict").filter({ hasText: "Located" });
    for (let turn = 0; turn < 4 && (await located.count()) === 0; turn++)
      await takeStep(me, "Let the stand-in meter read");
    await located.filter({ hasText: "modules 5 and 6" }).waitFor();
    expect(me.interactions).toBeLessThan(25);
    // Over half of it is cautions and preconditions read to their end; nothing here may tempt anybody to skip them.
    expect(me.seconds).toBeLessThan(238);
  });

  it("finds the damage of the first practice array in a reckoned three minutes, with every caution and precondition read", async () => {
    const me = newcomer();
    await page.goto(desk.url);
    await me.press(page.getByRole("link", { name: "Learn" }));
    await page.getByRole("heading", { name: "Learn" }).waitFor();
    await me.read(page.getByRole("main"));
    await me.press(button("Begin").first());
    const located = page.locator(".verdict").filter({ hasText: "Located" });
    for (let turn = 0; turn < 4 && (await located.count()) === 0; turn++)
      await takeStep(me, "Let the practice array answer");
    await located.waitFor();
    expect(me.interactions).toBeLessThan(25);
    expect(me.seconds).toBeLessThan(180);
  });

  it("sees damage located in a reckoned three minutes from the visit that stands there as an example", async () => {
    const me = newcomer();
    await page.goto(desk.url);
    await me.press(page.getByRole("link", { name: "Visits" }));
    await me.read(page.getByRole("main"));
    await me.press(button("Open the example"));
    const located = page.locator(".verdict").filter({ hasText: "Located" });
    await located.waitFor();
    await me.read(located);
    await me.read(page.getByRole("region", { name: "Next step" }));
    expect(me.interactions).toBeLessThan(25);
    expect(me.seconds).toBeLessThan(180);
  });
});

/** Reads and does all that the next step asks for, and has its readings taken. */
async function takeStep(me: ReturnType<typeof newcomer>, reads: string): Promise<void> {
  const step = page.getByRole("region", { name: "Next step" });
  const taken = page.getByRole("button", { name: /^Take away reading/u });
  await step
    .getByText(/I have read these|Make sure, then tick/u)
    .first()
    .waitFor();
  await me.read(step);
  if ((await button("I have read these").count()) > 0) await me.press(button("I have read these"));
  await step.getByRole("checkbox").first().waitFor();
  await me.read(step);
  for (const box of await step.getByRole("checkbox").all()) if (!(await box.isChecked())) await me.press(box);
  const before = await taken.count();
  await me.press(button(reads));
  await expect.poll(async () => await taken.count(), { timeout: 60_000 }).toBeGreaterThan(before + 2);
  await page.locator(".under-way").waitFor({ state: "detached" });
  await me.read(page.locator(".verdict"));
}
