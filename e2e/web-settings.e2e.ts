import { type ChildProcess, spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Browser, chromium, type Page } from "@playwright/test";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { saying } from "./desk-process.ts";
import { accessFaults, BROWSER, newContext, newPage } from "./web-browser.ts";

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

let folder: string;
let child: ChildProcess;
let says: ReturnType<typeof saying>;
let browser: Browser;
let page: Page;
let url: string;

/** Both papers, for the eye that reads and the one that is dazzled. */
async function readable(): Promise<void> {
  for (const colorScheme of ["light", "dark"] as const) {
    await page.emulateMedia({ colorScheme });
    expect(await accessFaults(page)).toEqual([]);
  }
}

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "earthbell-settings-"));
  mkdirSync(join(folder, "sites"));
  writeFileSync(join(folder, "desk.yaml"), SETTINGS);
  writeFileSync(join(folder, "sites", "creamery.yaml"), readFileSync("demo/sites/creamery.yaml"));
  child = spawn(process.execPath, ["dist/earthbell.js", "desk", "--data", folder, "--port", "0"]);
  says = saying(child);
  browser = await chromium.launch(BROWSER);
  page = (await newPage(await newContext(browser))).page;
  const [, link = "", address = ""] = await says(/sign in\s+((http:\S+)\/join\/\S+)\n/u);
  url = address;
  await page.goto(link);
  await page.getByLabel("Name", { exact: true }).fill("Ann Lee");
  await page
    .getByLabel(/^Password/u)
    .first()
    .fill("four plain words here");
  await page.getByRole("button", { name: "Make the account" }).click();
  await page.getByRole("heading", { name: "Ann Lee" }).waitFor();
});
afterAll(async () => {
  await browser.close();
  const ended = new Promise((resolve) => child.once("exit", resolve));
  child.kill("SIGTERM");
  await ended;
  rmSync(folder, { recursive: true });
});

describe("a value of a rule pack", () => {
  it("is overridden with a reason, the weaker one only after its warning, marked, and taken back", async () => {
    await page.goto(`${url}/rules/au-nz-5033-2021`);
    await page.getByRole("button", { name: /^Override… A message goes to at least/u }).click();
    await page.getByLabel("New value, addresses").fill("1");
    await page.getByText("Weaker than the pack").waitFor();
    const put = page.getByRole("button", { name: "Override for the whole desk" });
    expect(await put.isDisabled()).toBe(true);
    await page.getByLabel(/^I have looked at the source again/u).check();
    await put.click();
    await page.getByText("RULES_OVERRIDE_REASON").first().waitFor();
    await readable();
    await page.getByLabel("Why", { exact: true }).fill("one keeper lives there");
    await page.getByLabel("From", { exact: true }).fill("letter of 2 March");
    await put.click();
    await page.getByText(/overridden by Ann Lee on .*: one keeper lives there/u).waitFor();
    await readable();
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
    await page.goto(`${url}/settings`);
    await page.getByRole("button", { name: "Change… (E-mail)" }).click();
    await page.getByLabel("Server", { exact: true }).fill("no host");
    await page.getByLabel("From", { exact: true }).fill("nobody");
    await page.getByRole("button", { name: "Save this section" }).click();
    await page.getByText("At email.host.").waitFor();
    await page.getByText("At email.from.").waitFor();
    await readable();
    expect(readFileSync(join(folder, "desk.yaml"), "utf8")).toBe(SETTINGS);
    await page.getByLabel("Server", { exact: true }).fill("localhost");
    await page.getByLabel("From", { exact: true }).fill("watch@example.org");
    await page.getByRole("button", { name: "Save this section" }).click();
    await page.getByText("localhost, port 2525, none").waitFor();
    expect(readFileSync(join(folder, "desk.yaml"), "utf8")).toBe(
      SETTINGS.replace("host: 127.0.0.1", "host: localhost"),
    );
  });
});
