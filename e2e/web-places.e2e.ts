import type { Page } from "@playwright/test";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { run } from "./run-cli.ts";
import { makeSure, newContext, newPage, openWeb, type OpenWeb } from "./web-browser.ts";

let web: OpenWeb;
let page: Page;
beforeAll(async () => {
  web = await openWeb();
  page = (await newPage(await newContext(web.browser))).page;
});
afterAll(async () => {
  await web.close();
});

describe("a site opened from its file", () => {
  const file = "e2e/fixtures/windmill.yaml";

  it("shows each path as a chain, with the proof it has", async () => {
    await page.goto(`${web.server.address}/sites`);
    await page.getByLabel(/^Open a site file/u).setInputFiles(file);
    await page.getByRole("heading", { name: "Old windmill bakery" }).waitFor();
    const chain = page.getByRole("img", { name: /^Path P1, message/u });
    await chain.waitFor();
    expect(await chain.textContent()).toContain("2026-02-03");
  });

  it("states the duty that the command states", async () => {
    const { out } = await run(["assess", file, "--json"]);
    const { arrays } = JSON.parse(out) as { arrays: { duty: { alarm: string; rulePack: string } }[] };
    await page.goto(`${web.server.address}/sites/windmill/duty`);
    const words = { required: "An alarm is required", "not-required": "No alarm", undecided: "undecided" };
    await page.getByText(words[arrays[0]!.duty.alarm as keyof typeof words]).waitFor();
    await page.getByRole("link", { name: arrays[0]!.duty.rulePack }).waitFor();
  });

  it("maps coverage for both times of day and offers it as a table", async () => {
    await page.goto(`${web.server.address}/sites/windmill/coverage`);
    await page.getByRole("img", { name: /faults born in the dark/u }).waitFor();
    await page.getByText("The drawing as a table").first().click();
    expect(await page.getByRole("table").first().getByRole("row").count()).toBe(1 + 15);
  });

  it("draws the time to notice and what a change would gain", async () => {
    await page.goto(`${web.server.address}/sites/windmill/notice`);
    const curve = page.getByRole("img", { name: /not yet noticed/u });
    await curve.waitFor({ timeout: 60_000 });
    const before = await curve.textContent();
    await page.getByRole("radio").nth(1).check();
    await expect.poll(async () => await curve.textContent()).not.toBe(before);
    expect(await curve.textContent()).toContain("with the change");
  });

  it("without an annunciator says that there is no loop", async () => {
    await page.goto(`${web.server.address}/sites/windmill/loop`);
    await page.getByText("no loop to judge").waitFor();
  });
});

describe("advice while it is being filled in", () => {
  it("answers as the command does on the answers saved from the page", async () => {
    await page.goto(`${web.server.address}/advise`);
    const short = page.locator(".short");
    await short.getByText("Undecided").waitFor();
    const fields = {
      Country: "AU",
      Region: "VIC",
      "Time zone": "Australia/Melbourne",
      "Latitude, degrees": "-38",
      "Longitude, degrees": "144",
      Day: "2026-12-09",
      "Modules in each string": "12, 12",
      "Power, W": "410",
      "Open-circuit voltage, V": "37.4",
      "Voltage coefficient, %/K": "-0.27",
      "Area, m²": "1.95",
      "Lowest, °C": "-4",
      "Rated power, kVA": "10",
    };
    for (const [label, value] of Object.entries(fields))
      await page.getByLabel(label, { exact: true }).fill(value);
    await page.getByLabel("Transformer to the mains").selectOption("none");
    await page.getByLabel("Earthing", { exact: true }).selectOption("floating");
    await page.getByLabel("Stands", { exact: true }).selectOption("building");
    await short.getByText("An alarm is required").waitFor({ timeout: 60_000 });
    const folder = mkdtempSync(join(tmpdir(), "earthbell-advise-"));
    const coming = page.waitForEvent("download");
    await page.getByRole("button", { name: "Save the answers" }).click();
    const file = join(folder, "advice.yaml");
    await (await coming).saveAs(file);
    const { status, out } = await run(["advise", file, "--json"]);
    expect(status).toBe(0);
    expect((JSON.parse(out) as { duty: { alarm: string } }).duty.alarm).toBe("required");
    rmSync(folder, { recursive: true });
  });

  it("keeps what was typed when the tab is closed, and says what is wrong with an answer", async () => {
    await page.goto(`${web.server.address}/advise`);
    await page.getByLabel("Rated power, kVA").fill("ten");
    await page.getByRole("alert").filter({ hasText: "ratedPower" }).waitFor();
    await page.reload();
    expect(await page.getByLabel("Rated power, kVA").inputValue()).toBe("ten");
  });
});

describe("rule packs", () => {
  it("are shown with every source of their file", async () => {
    const pack = JSON.parse(readFileSync("packages/engine/src/rules/packs/au-nz-5033-2014.json", "utf8")) as {
      duty: { text: string; source: string }[];
    };
    await page.goto(`${web.server.address}/rules/au-nz-5033-2014`);
    await page.getByRole("heading", { name: "When an alarm is required" }).waitFor();
    const shown = (await page.locator("main").textContent()) ?? "";
    for (const { text, source } of pack.duty) {
      expect(shown).toContain(text);
      expect(shown).toContain(source);
    }
  });
});

describe("practice", () => {
  it("leads a newcomer to the place, tells the truth, and keeps the score against halving", async () => {
    await page.goto(`${web.server.address}/learn`);
    await page.getByRole("button", { name: "Begin" }).first().click();
    await page.getByRole("button", { name: "I have read these" }).waitFor();
    await makeSure(page);
    await page.getByRole("button", { name: "Let the practice array answer" }).click();
    const verdict = page.locator(".verdict").filter({ hasText: "Located" });
    await verdict.waitFor({ timeout: 60_000 });
    const row = page
      .getByRole("table", { name: /^Places on S1/u })
      .getByRole("row")
      .nth(1);
    await page.getByText("The drawing as a table").first().click();
    const at = await row.getByRole("cell").nth(1).textContent();
    await page.getByRole("textbox", { name: "Modules from −" }).fill(at ?? "");
    await page.getByRole("button", { name: "It is there" }).click();
    await page.getByRole("heading", { name: "Found" }).waitFor();
    await page.getByRole("link", { name: "To the next one" }).click();
    await page.getByText(/0 openings against \d by halves/u).waitFor();
  });

  it("says when the practice array gives no answer, and keeps the step so that it can be asked again", async () => {
    const context = await newContext(web.browser);
    const own = (await newPage(context)).page;
    // The first question to the practice array fails, as where the calculation breaks off.
    await own.addInitScript(() => {
      let failed = false;
      const post = Reflect.get(Worker.prototype, "postMessage") as (message: unknown) => void;
      Worker.prototype.postMessage = function asked(this: Worker, message: { number: number; job: string }) {
        if (failed || message.job !== "practiceMeasure") {
          post.call(this, message);
          return;
        }
        failed = true;
        const data = { number: message.number, failed: "broken off" };
        setTimeout(() => this.dispatchEvent(new MessageEvent("message", { data })));
      };
    });
    await own.goto(`${web.server.address}/learn`);
    await own.getByRole("button", { name: "Begin" }).first().click();
    await own.getByRole("button", { name: "I have read these" }).waitFor();
    await makeSure(own);
    const answer = own.getByRole("button", { name: "Let the practice array answer" });
    await answer.click();
    await own.getByRole("alert").filter({ hasText: "broken off" }).waitFor();
    await answer.click();
    await own.locator(".verdict").filter({ hasText: "Located" }).waitFor({ timeout: 60_000 });
    await context.close();
  });
});
