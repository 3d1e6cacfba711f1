import { readFileSync } from "node:fs";
import type { Page } from "@playwright/test";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { expectReadable, type FolderDesk, startFolderDesk } from "./folder-desk.ts";
import { accessFaults } from "./web-browser.ts";

let desk: FolderDesk;
let page: Page;

const line = (name: string) => page.getByRole("group", { name: `Line ${name}`, exact: true }).first();
const draft = () => page.frameLocator("iframe.draft-place");

beforeAll(async () => {
  desk = await startFolderDesk("format: earthbell.desk/1\ndesk: {name: Skerry}\n", {
    creamery: readFileSync("demo/sites/creamery.yaml", "utf8"),
  });
  page = desk.page;
});
afterAll(async () => {
  await desk.stop();
});

describe("the form of a commissioning", () => {
  it("judges each reading at once, and keeps what was entered over a reload", async () => {
    await page.goto(`${desk.url}/papers/creamery/commissioning`);
    await page.getByLabel("Day of the work").fill("2026-02-03");
    await page.getByLabel("Done by").fill("M. Orrin (invented)");
    await page.getByLabel("Time of day").fill("06:50");
    await page.getByLabel("The array was").selectOption("dry");
    await page.getByLabel("Instrument", { exact: true }).first().fill("insulation tester");
    await page.getByLabel("Its own number").fill("T-031");
    await page.getByLabel("Calibrated on").fill("2026-03-01");
    await page.getByText("calibrated 2026-03-01 is after the work").first().waitFor();
    await page.getByLabel("Calibrated on").fill("2025-09-15");
    // The least insulation is 1 MΩ; 0.4 MΩ lies below it.
    await line("5.2").getByLabel("Reading").fill("0.4");
    await line("5.2").getByText("Does not pass").waitFor();
    await line("2.1").getByLabel("Reading").fill("0.3");
    await line("2.1").getByText("0.3 Ω is not above 1 Ω, the limit").waitFor();
    await line("3.1").getByLabel("Yes, passes").check();
    const insulation = page.getByRole("listitem").filter({ hasText: "5. Insulation test" });
    await insulation.getByText("One does not pass").waitFor();
    await insulation.getByRole("button").click();
    await page.locator("h3:focus", { hasText: "5. Insulation test" }).waitFor();
    await page.getByText("Kept in this browser until the record is issued.").waitFor();
    await page.reload();
    await line("5.2").getByText("Does not pass").waitFor();
    expect(await line("5.2").getByLabel("Reading").inputValue()).toBe("0.4");
    expect(await line("3.1").getByLabel("Yes, passes").isChecked()).toBe(true);
    expect(await page.getByLabel("Done by").inputValue()).toBe("M. Orrin (invented)");
    await expectReadable(page);
  });

  it("is carried by the draft, becomes a record with the reading that failed first, and is listed", async () => {
    await draft().getByText("Not passed: array A1, insulation test: 0.4 MΩ").waitFor();
    await page.getByLabel("HTML", { exact: true }).check();
    await page.getByLabel("PDF", { exact: true }).uncheck();
    await page.getByRole("button", { name: "Issue it" }).click();
    await page.getByRole("heading", { name: "Papers of creamery" }).waitFor();
    const issued = page.locator(`a[download="commissioning-record-creamery-1.html"]`);
    const address = await issued.getAttribute("href");
    const paper = await page.request.get(desk.url + address!);
    const alone = await page.context().newPage();
    await alone.setContent(await paper.text());
    await alone.getByText("Not passed: array A1, insulation test: 0.4 MΩ").first().waitFor();
    expect(await accessFaults(alone)).toEqual([]);
    await alone.close();
    // What is a record now is not kept as a form any more.
    await page.goto(`${desk.url}/papers/creamery/commissioning`);
    await page.getByText("What you enter is kept in this browser").waitFor();
    expect(desk.complaints).toEqual([]);
  });
});

describe("a setting sheet", () => {
  it("is written, its steps put in order by keyboard, issued, and revised", async () => {
    await page.goto(`${desk.url}/setting-sheets/new`);
    await page.getByLabel("Short name").fill("gannet");
    await page.getByLabel("Device family").fill("Gannet (invented)");
    await page.getByLabel("Written by").fill("a team");
    await page.getByLabel("Last read on").fill("2026-11-02");
    await page.getByLabel("What to do").fill("Set the relay to any fault.");
    await page.getByLabel("Where it comes from").fill("design record");
    await page.getByRole("button", { name: "Another step" }).click();
    await page.getByLabel("What to do").nth(1).fill("Read the threshold.");
    await page.getByLabel("Where it comes from").nth(1).fill("design record");
    await page.getByRole("button", { name: "Move step 2 up" }).press("Enter");
    await expect
      .poll(async () => await page.getByLabel("What to do").first().inputValue())
      .toBe("Read the threshold.");
    await draft().getByText("1. Read the threshold.").waitFor();
    await expectReadable(page);
    await page.getByLabel("HTML", { exact: true }).check();
    await page.getByLabel("PDF", { exact: true }).uncheck();
    await page.getByRole("button", { name: "Issue it" }).click();
    await page.locator(`a[download="setting-sheet-gannet-1.html"]`).waitFor();
    await page.getByRole("link", { name: "gannet: revise" }).click();
    await page.getByLabel("What is set").first().fill("30 kΩ");
    await draft().getByText("Set to: 30 kΩ.").waitFor();
    await page.getByLabel("HTML", { exact: true }).check();
    await page.getByLabel("PDF", { exact: true }).uncheck();
    await page.getByRole("button", { name: "Issue it" }).click();
    await page.locator(`a[download="setting-sheet-gannet-2.html"]`).waitFor();
    expect(desk.complaints).toEqual([]);
  });
});

describe("a setting sheet on a phone", () => {
  const step = (number: number) => page.getByRole("group", { name: `Step ${number}`, exact: true });

  it("folds its steps behind what they are to do, and unfolds a new one and the one of a fault", async () => {
    await page.setViewportSize({ width: 390, height: 844 });
    await page.goto(`${desk.url}/setting-sheets/gannet`);
    await step(1).getByRole("button", { name: "Read the threshold." }).waitFor();
    await step(1).getByLabel("What to do").waitFor({ state: "hidden" });
    await page.getByRole("button", { name: "Another step" }).click();
    await expect
      .poll(
        async () =>
          await step(3)
            .getByLabel("What to do")
            .evaluate((field) => field === document.activeElement),
      )
      .toBe(true);
    await page.keyboard.type("Close the lid.");
    const heading = step(3).locator("h3 button");
    await heading.getByText("Without its source").waitFor();
    await heading.click();
    const source = step(3).getByLabel("Where it comes from");
    await source.waitFor({ state: "hidden" });
    await page.getByRole("button", { name: "Step 3, where it comes from" }).click();
    await expect
      .poll(async () => await source.evaluate((field) => field === document.activeElement))
      .toBe(true);
    await step(3).getByRole("button", { name: "Take step 3 away" }).click();
    await page.getByRole("button", { name: "Put step 3 back" }).click();
    await source.waitFor();
    await expectReadable(page);
    await step(3).getByRole("button", { name: "Take step 3 away" }).click();
    await page.setViewportSize({ width: 1280, height: 900 });
    expect(desk.complaints).toEqual([]);
  });
});

describe("a setting sheet at a commissioning", () => {
  const sheet = () => page.getByRole("group", { name: "Sheet gannet, revision 2" });
  const step = (number: number) => sheet().getByRole("group", { name: `Step ${number}`, exact: true });

  it("is ticked step by step, kept over a reload, and bound into the record, which is not complete before", async () => {
    await page.goto(`${desk.url}/papers/creamery/commissioning`);
    await page.getByRole("button", { name: "Fill the form in from the newest record" }).click();
    await page.getByLabel("A sheet to tick").selectOption("gannet");
    await page.getByRole("button", { name: "Put it into the form" }).click();
    await step(1).getByLabel("Step 1 is done").check();
    await step(1).getByLabel("Found or set").fill("30 kΩ");
    await sheet().getByText("1 of 2 steps ticked").waitFor();
    await draft().getByText("Not ticked: setting sheet gannet, revision 2, step 2").waitFor();
    await draft().getByText("Not complete: not every step").waitFor();
    await page.getByText("Kept in this browser until the record is issued.").waitFor();
    await page.reload();
    await sheet().getByText("1 of 2 steps ticked").waitFor();
    await expectReadable(page);
    await step(2).getByLabel("Step 2 is done").check();
    await draft().getByText("2 of 2 steps of setting sheets ticked").waitFor();
    expect(await draft().getByText("Not complete").count()).toBe(0);
    expect(desk.complaints).toEqual([]);
  });
});

describe("the form of a commissioning on a phone", () => {
  const step = (name: string) => page.locator(`[data-fold="A1/${name}"]`);
  const heading = (name: string) => step(name).locator("h3 button");

  it("folds its steps, each saying how it stands, and shows the cautions of one before its fields", async () => {
    await page.setViewportSize({ width: 390, height: 844 });
    await page.goto(`${desk.url}/papers/creamery/commissioning`);
    await heading("P1/insulation-test").getByText("One does not pass").waitFor();
    await heading("P1/polarity").getByText("Done").waitFor();
    // All of it unfolded is some forty thousand pixels high.
    expect(await page.evaluate(() => document.documentElement.scrollHeight)).toBeLessThan(9_000);
    const last = step("P2/restore");
    await heading("P2/restore").getByText("Open").waitFor();
    expect(await last.getByLabel("What was seen, in words").isVisible()).toBe(false);
    await heading("P2/restore").press("Enter");
    await last.getByText("This work can kill.").waitFor();
    await last.getByLabel("What was seen, in words").fill("as it was found");
    await last.getByLabel("Yes, passes").check();
    await heading("P2/restore").getByText("Done").waitFor();
    await page.getByText("Kept in this browser until the record is issued.").waitFor();
    await page.reload();
    await page.locator("h3:focus", { hasText: "10. Restore" }).waitFor();
    expect(await last.getByLabel("What was seen, in words").inputValue()).toBe("as it was found");
    await expectReadable(page);
  });

  it("unfolds the step of a fault, of an address, and of what the browser finds in it", async () => {
    const voltage = line("4.1").getByLabel("Reading");
    await heading("P1/open-circuit-voltage").click();
    await voltage.fill("many");
    await heading("P1/open-circuit-voltage").getByText("To be put right").waitFor();
    await heading("P1/open-circuit-voltage").click();
    await voltage.waitFor({ state: "hidden" });
    const missing = page.locator("section", {
      has: page.getByRole("heading", { name: /^Missing or wrong/u }),
    });
    await missing.getByRole("listitem").filter({ hasText: "many" }).getByRole("button").click();
    await expect
      .poll(async () => await voltage.evaluate((field) => field === document.activeElement))
      .toBe(true);
    // As a search of the page does, going to a folded part makes the browser unfold it.
    await step("P1/connect").getByText("This work can kill.").waitFor({ state: "hidden" });
    await step("P1/connect")
      .locator("> div > *")
      .last()
      .evaluate((part) => {
        part.id = "within";
        window.location.hash = "within";
      });
    await step("P1/connect").getByText("This work can kill.").waitFor();
    await page.goto(`${desk.url}/papers/creamery/commissioning?step=A1%2FP1%2Fisolate`);
    await page.locator("h3:focus", { hasText: "1. Isolate" }).waitFor();
    await step("P1/isolate").getByText("This work can kill.").waitFor();
    // A screen that becomes narrow does not fold away what somebody is typing into.
    await page.setViewportSize({ width: 1280, height: 900 });
    await voltage.focus();
    await page.setViewportSize({ width: 390, height: 844 });
    await heading("P1/open-circuit-voltage").waitFor();
    await page.keyboard.press("End");
    await page.keyboard.type("y");
    await expect.poll(async () => await voltage.inputValue()).toBe("manyy");
    expect(desk.complaints).toEqual([]);
  });
});
