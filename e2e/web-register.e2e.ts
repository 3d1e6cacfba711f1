import { readdirSync, readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type FolderDesk, startFolderDesk } from "./folder-desk.ts";

let desk: FolderDesk;
beforeAll(async () => {
  const files = readdirSync("demo/sites").filter((file) => file.endsWith(".yaml"));
  const sites = files.map((file) => [file.slice(0, -5), readFileSync(`demo/sites/${file}`, "utf8")] as const);
  desk = await startFolderDesk("format: earthbell.desk/1\ndesk: {name: Skerry}\n", Object.fromEntries(sites));
});
afterAll(async () => {
  await desk.stop();
});

describe("the register", () => {
  it("finds a site as one types, and is handed out as a table", async () => {
    const { page } = desk;
    await page.goto(`${desk.url}/register`);
    await page.getByLabel("Find").fill("hennick cream");
    await expect
      .poll(async () => await page.getByRole("row").filter({ hasText: "Hennick creamery" }).count())
      .toBe(1);
    // The heads are a row too.
    await expect.poll(async () => await page.getByRole("row").count()).toBe(2);
    const coming = page.waitForEvent("download");
    await page.getByRole("button", { name: "Save these as a table (CSV)" }).click();
    const file = await (await coming).path();
    expect(readFileSync(file, "utf8")).toMatch(/^site,name,[^\n]*\r\ncreamery,Hennick creamery,1,/u);
  });

  it("says on a phone what the register is filtered by, and shows its sites on the first screen", async () => {
    const { page } = desk;
    const whole = page.viewportSize()!;
    await page.setViewportSize({ width: 390, height: 844 });
    await page.goto(`${desk.url}/register?by=name`);
    const filters = page.locator("summary", { hasText: "Show every site; in the order of name" });
    await filters.click();
    await page.getByLabel("Show").selectOption("required");
    await page
      .locator("summary", { hasText: "Show where an alarm is required; in the order of name" })
      .click();
    expect(new URL(page.url()).search).toBe("?by=name&show=required");
    const third = await page.getByRole("row").nth(3).boundingBox();
    expect(third!.y + third!.height).toBeLessThan(844);
    await page.setViewportSize(whole);
  });

  it("prints every site that was asked for, and not what can only be pressed or typed", async () => {
    const { page } = desk;
    await page.goto(`${desk.url}/register?by=name`);
    const said = await page
      .getByRole("status")
      .filter({ hasText: /^\d+ sites$/u })
      .textContent();
    await page.evaluate(() => {
      window.addEventListener(
        "beforeprint",
        () => {
          const names = [...document.querySelectorAll("tbody th")].map((name) => name.textContent);
          document.body.dataset["printed"] = JSON.stringify(names);
        },
        { once: true },
      );
    });
    await page.pdf();
    const printed = await page.evaluate(() => document.body.dataset["printed"]);
    const names = JSON.parse(printed ?? "[]") as readonly string[];
    expect(`${names.length} sites`).toBe(said);
    expect(names).toContain("Hennick creamery");
    // On the screen again it is the list that scrolls.
    await page.getByRole("region", { name: "Sites" }).waitFor();
    await page.emulateMedia({ media: "print" });
    await page.getByText("Show every site; in the order of name.").waitFor();
    expect(await page.getByLabel("Find").isVisible()).toBe(false);
    await page.emulateMedia({ media: "screen" });
  });

  it("gives the browser nothing to complain of", () => {
    expect(desk.complaints).toEqual([]);
  });
});
