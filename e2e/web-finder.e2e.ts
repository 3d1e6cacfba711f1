import type { Download, Page } from "@playwright/test";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { run } from "./run-cli.ts";
import {
  beginVisit,
  enterReading,
  makeSure,
  newContext,
  newPage,
  onScreen,
  openExample,
  openWeb,
  type OpenWeb,
} from "./web-browser.ts";

let web: OpenWeb;
beforeAll(async () => {
  web = await openWeb();
});
afterAll(async () => {
  await web.close();
});

async function freshPage(): Promise<Page> {
  return (await newPage(await newContext(web.browser))).page;
}

/**
 * 800 V over 20 modules with 50 kΩ at junction 7, drawn by hand: an ideal meter reads 7/20 and 13/20 of 800 V; one of 10 MΩ
 * shows that times 10 MΩ / (10 MΩ + 50 kΩ).
 */
const DRAWN = { across: "800", plus: "517.4", minus: "278.6" } as const;

describe("the finder in the browser", () => {
  it("names junction 7 from three readings of a circuit drawn by hand", async () => {
    const page = await freshPage();
    await beginVisit(page, web.server.address, 20);
    await makeSure(page);
    for (const value of [DRAWN.across, DRAWN.plus, DRAWN.minus]) await enterReading(page, value);
    await expect
      .poll(async () => await page.locator(".verdict").textContent())
      .toMatch(/connectors between modules 7 and 8/u);
    expect(await page.locator("figure.drawing svg").first().getAttribute("aria-label")).toMatch(
      /likeliest .*modules 7 and 8/u,
    );
  });

  it("lets no reading be entered before the cautions are read and every precondition is ticked", async () => {
    const page = await freshPage();
    await beginVisit(page, web.server.address, 12);
    expect(await page.locator("input.big").count()).toBe(0);
    expect(await page.getByRole("region", { name: "Next step" }).getByRole("checkbox").count()).toBe(0);
    await page.getByRole("button", { name: "I have read these" }).click();
    const boxes = await page.getByRole("region", { name: "Next step" }).getByRole("checkbox").all();
    expect(boxes.length).toBeGreaterThan(4);
    for (const box of boxes.slice(1)) await box.check();
    expect(await page.locator("input.big").count()).toBe(0);
    await boxes[0]!.check();
    await page.locator("input.big").waitFor();
    await boxes[0]!.uncheck();
    await expect.poll(async () => await page.locator("input.big").count()).toBe(0);
  });

  it("asks for proven zero current before a connector is opened", async () => {
    const page = await freshPage();
    await openExample(page, web.server.address);
    await page.getByRole("heading", { name: /^Confirm at the connector/u }).waitFor();
    expect(await page.getByText("Prove zero current in the conductor").count()).toBeGreaterThan(0);
    await page.getByRole("button", { name: "I have read these" }).click();
    await page.getByRole("checkbox", { name: /clamp .* shows zero in this very conductor/u }).waitFor();
  });

  it("says why a value was refused and keeps it in the field", async () => {
    const page = await freshPage();
    await beginVisit(page, web.server.address, 12);
    await makeSure(page);
    await page.locator("input.big").fill("5300000");
    await page.getByRole("button", { name: "Take this reading" }).click();
    await page.getByRole("alert").filter({ hasText: "more than an array gives" }).waitFor();
    expect(await page.locator("input.big").inputValue()).toBe("5300000");
  });

  it("takes a reading back by undo", async () => {
    const page = await freshPage();
    await beginVisit(page, web.server.address, 20);
    await makeSure(page);
    await enterReading(page, DRAWN.across);
    await enterReading(page, DRAWN.plus);
    await page.getByRole("button", { name: /^Undo/u }).click();
    await expect
      .poll(async () => await page.getByRole("button", { name: /^Take away reading/u }).count())
      .toBe(1);
    await page.getByText("Reading 2 of 3").waitFor();
  });

  it("brings what the readings say and the next step on a phone's screen after the last reading, above every button", async () => {
    const page = await freshPage();
    await page.setViewportSize({ width: 360, height: 740 });
    await beginVisit(page, web.server.address, 20);
    await makeSure(page);
    await enterReading(page, DRAWN.across);
    await page.getByText("Made sure of 6 things").waitFor();
    const takes = page.getByRole("button", { name: "Take this reading" });
    await expect.poll(async () => await onScreen(takes)).toBe(true);
    for (const value of [DRAWN.plus, DRAWN.minus]) await enterReading(page, value);
    const next = page.getByRole("heading", { name: /^Confirm at the connector/u });
    await expect.poll(async () => await next.evaluate((one) => one === document.activeElement)).toBe(true);
    for (const seen of [page.locator(".verdict"), next, page.getByText("Read first")])
      await expect.poll(async () => await onScreen(seen)).toBe(true);
    expect(await onScreen(page.getByRole("button", { name: "I have read these" }))).toBe(false);
    const [step, drawing] = await Promise.all([
      next.boundingBox(),
      page.locator("figure").first().boundingBox(),
    ]);
    expect(drawing!.y).toBeGreaterThan(step!.y);
  });

  it("reaches a located fault from the example visit in under 25 interactions", async () => {
    const page = await freshPage();
    let interactions = 0;
    await page.exposeFunction("countInteraction", () => {
      interactions += 1;
    });
    await page.addInitScript(() => {
      const count = (): void => {
        (globalThis as unknown as { countInteraction: () => void }).countInteraction();
      };
      for (const kind of ["click", "change"]) globalThis.addEventListener(kind, count, true);
    });
    await openExample(page, web.server.address);
    await page.locator(".verdict").filter({ hasText: "Located" }).waitFor();
    expect(interactions).toBeGreaterThan(0);
    expect(interactions).toBeLessThan(25);
  });
});

describe("a visit as a file", () => {
  it("is read by the command to the same verdict, and opens again in the browser with every reading", async () => {
    const folder = mkdtempSync(join(tmpdir(), "earthbell-web-"));
    const page = await freshPage();
    await beginVisit(page, web.server.address, 20);
    await makeSure(page);
    for (const value of [DRAWN.across, DRAWN.plus, DRAWN.minus]) await enterReading(page, value);
    await page.getByLabel("Notes").fill("found under the clip: bare copper");
    const photo = {
      name: "image.png",
      mimeType: "image/png",
      buffer: readFileSync("docs/img/now-light.png"),
    };
    for (let turn = 0; turn < 2; turn++) await page.getByLabel(/^Add a photo/u).setInputFiles(photo);
    const saved: Download[] = [];
    page.on("download", (download) => saved.push(download));
    await page.getByRole("button", { name: "Save as a visit file, and its 2 photos" }).click();
    await expect.poll(() => saved.length, { timeout: 60_000 }).toBe(3);
    for (const download of saved) await download.saveAs(join(folder, download.suggestedFilename()));
    const file = join(folder, saved[0]!.suggestedFilename());
    const { status, out } = await run(["locate", file]);
    expect(status).toBe(0);
    expect(out).toMatch(/connectors between modules 7 and 8/u);
    const paper = await run(["paper", "fault-report", file, "--out", folder, "--format", "html"]);
    expect(paper).toMatchObject({ status: 0, err: expect.not.stringContaining("photo") as string });
    const report = readdirSync(folder).find((name) => name.endsWith(".html"));
    expect(readFileSync(join(folder, report!), "utf8").match(/src="data:image\/jpeg/gu)).toHaveLength(2);
    await page.goto(`${web.server.address}/visits`);
    await page.getByLabel(/^Open a visit file/u).setInputFiles(file);
    await page.locator(".verdict").filter({ hasText: "modules 7 and 8" }).waitFor();
    expect(await page.getByRole("button", { name: /^Take away reading/u }).count()).toBe(3);
    rmSync(folder, { recursive: true });
  });

  it("that is malformed is refused with every fault and its line", async () => {
    const page = await freshPage();
    await page.goto(`${web.server.address}/visits`);
    await page.getByText("Paste its text instead").click();
    await page
      .getByLabel("Text of a visit file")
      .fill("format: earthbell.visit/1\nstrings:\n  - {id: S1, modules: twelve}\n");
    await page.getByRole("button", { name: "Read the pasted text" }).click();
    const alert = page.getByRole("alert");
    await alert.waitFor();
    expect(await alert.textContent()).toMatch(/Line 3.*modules/su);
    expect(await alert.textContent()).toMatch(/readings/u);
  });
});

describe("the finder by keyboard alone", () => {
  it("goes from the first page to a located fault without a pointer", async () => {
    const page = await freshPage();
    await page.goto(web.server.address);
    await page.getByRole("heading", { level: 1 }).waitFor();
    await page.keyboard.press("Control+k");
    await page.getByRole("searchbox").waitFor();
    await page.keyboard.type("new visit");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "Begin a visit" }).waitFor();
    await tabTo(page, "Modules in series");
    await page.keyboard.type("20");
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "I have read these" }).waitFor();
    await tabTo(page, "I have read these");
    await page.keyboard.press("Enter");
    const boxes = await page.getByRole("region", { name: "Next step" }).getByRole("checkbox").count();
    for (let box = 0; box < boxes; box++) {
      await tabTo(page, "", "checkbox");
      await page.keyboard.press("Space");
    }
    await tabTo(page, "Reading 1 of 3");
    for (const value of [DRAWN.across, DRAWN.plus, DRAWN.minus]) {
      await page.keyboard.type(value);
      await page.keyboard.press("Enter");
      await page.waitForTimeout(200);
    }
    await page.locator(".verdict").filter({ hasText: "modules 7 and 8" }).waitFor();
  });
});

/** Presses Tab until something of this name, or this kind, has the focus; a page that cannot be reached so fails. */
async function tabTo(page: Page, name: string, kind = ""): Promise<void> {
  for (let press = 0; press < 80; press++) {
    await page.keyboard.press("Tab");
    const at = await page.evaluate(() => {
      const element = document.activeElement as HTMLInputElement | null;
      const label = element?.labels?.[0]?.textContent ?? element?.textContent ?? "";
      return { label, kind: element?.type ?? "" };
    });
    if (name !== "" ? at.label.includes(name) : at.kind === kind) return;
  }
  throw new Error(`Tab never reached ${name}${kind}`);
}
