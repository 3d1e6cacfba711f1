import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "@playwright/test";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { expectReadable, type FolderDesk, startFolderDesk } from "./folder-desk.ts";

const SETTINGS = `format: earthbell.desk/1
desk: {name: Skerry}
# the provider's relay
email:
  host: 127.0.0.1
  port: 2525
  security: none
  from: watch@example.org
limits: {floodAlarms: 20}
`;

let desk: FolderDesk;
let page: Page;

beforeAll(async () => {
  desk = await startFolderDesk(SETTINGS, { creamery: readFileSync("demo/sites/creamery.yaml", "utf8") });
  page = desk.page;
});
afterAll(async () => {
  await desk.stop();
});

describe("a value of a rule pack", () => {
  it("is overridden with a reason, the weaker one only after its warning, marked, and taken back", async () => {
    await page.goto(`${desk.url}/rules/au-nz-5033-2021`);
    await page.getByRole("button", { name: /^Override… A message goes to at least/u }).click();
    await page.getByLabel("New value, addresses").fill("1");
    await page.getByText("Weaker than the pack").waitFor();
    const put = page.getByRole("button", { name: "Override for the whole desk" });
    expect(await put.isDisabled()).toBe(true);
    await page.getByLabel(/^I have looked at the source again/u).check();
    await put.click();
    await page.getByText("RULES_OVERRIDE_REASON").first().waitFor();
    await expectReadable(page);
    await page.getByLabel("Why", { exact: true }).fill("one keeper lives there");
    await page.getByLabel("From", { exact: true }).fill("letter of 2 March");
    await put.click();
    await page.getByText(/overridden by Ann Lee on .*: one keeper lives there/u).waitFor();
    await expectReadable(page);
    const saving = page.waitForEvent("download");
    await page.getByRole("link", { name: "Save the overrides in force as a file" }).click();
    expect((await saving).suggestedFilename()).toBe("rule-overrides.yaml");
    await page.getByRole("button", { name: /^Take it back… A message/u }).click();
    await page.getByLabel("Why it is taken back").fill("the letter was withdrawn");
    await page.getByRole("button", { name: "Take the override back" }).click();
    await page.getByText("Overrides that have ended (1)").waitFor();
  });
});

describe("settings", () => {
  it("name their faults, are saved with their remarks, and are in force at once", async () => {
    await page.goto(`${desk.url}/settings`);
    await page.getByRole("button", { name: "Change… (E-mail)" }).click();
    await page.getByLabel("Server", { exact: true }).fill("no host");
    await page.getByLabel("From", { exact: true }).fill("nobody");
    await page.getByRole("button", { name: "Save this section" }).click();
    await page.getByText("At email.host.").waitFor();
    await page.getByText("At email.from.").waitFor();
    await expectReadable(page);
    expect(readFileSync(join(desk.folder, "desk.yaml"), "utf8")).toBe(SETTINGS);
    await page.getByLabel("Server", { exact: true }).fill("localhost");
    await page.getByLabel("From", { exact: true }).fill("watch@example.org");
    await page.getByRole("button", { name: "Save this section" }).click();
    await page.getByText("localhost, port 2525, none").waitFor();
    expect(readFileSync(join(desk.folder, "desk.yaml"), "utf8")).toBe(
      SETTINGS.replace("host: 127.0.0.1", "host: localhost"),
    );
  });
});

describe("settings on a phone", () => {
  const part = (name: string) => page.locator(`[data-fold="${name}"]`);
  const heading = (name: string) => part(name).locator("h2 button");

  it("are lines that say how each part stands, and are whole on paper", async () => {
    await page.setViewportSize({ width: 360, height: 740 });
    await page.goto(`${desk.url}/settings`);
    await heading("change").getByText("2 of 9 sections set").waitFor();
    await heading("ways").getByText("1 way").waitFor();
    const height = await page.evaluate(() => document.documentElement.scrollHeight);
    // All of it unfolded is some thousands of pixels high.
    expect(height).toBeLessThan(1_000);
    const said = part("stated").getByText("email.security");
    await said.waitFor({ state: "hidden" });
    await page.emulateMedia({ media: "print" });
    await said.waitFor();
    await page.emulateMedia({ media: "screen" });
    await expectReadable(page);
  });

  it("unfold for what was refused, and by their address", async () => {
    await page.goto(`${desk.url}/settings`);
    await heading("change").click();
    await page.getByRole("button", { name: "Change… (E-mail)" }).click();
    await page.getByLabel("From", { exact: true }).fill("nobody");
    let answer = (): void => undefined;
    const folded = new Promise<void>((now) => {
      answer = now;
    });
    await page.route(
      "**/api/settings/sections/email",
      async (route) => {
        await folded;
        await route.continue();
      },
      { times: 1 },
    );
    await page.getByRole("button", { name: "Save this section" }).click();
    await heading("change").click();
    await page.getByLabel("From", { exact: true }).waitFor({ state: "hidden" });
    answer();
    await page.getByText("At email.from.").waitFor();
    await page.goto(`${desk.url}/settings?part=limits`);
    await page.locator("h2:focus", { hasText: "Limits by which it decides" }).waitFor();
    await part("limits").getByText("insulation return ratio").waitFor();
    // Refused inputs are all that the browser has to complain of.
    expect(desk.complaints.filter((complaint) => !complaint.includes("status of 422"))).toEqual([]);
  });
});
