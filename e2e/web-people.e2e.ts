import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "@playwright/test";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type MailServer, startMailServer } from "../checks/mail-peer/mail-server.ts";
import { expectReadable, type FolderDesk, startFolderDesk } from "./folder-desk.ts";

const demo = (name: string): string => readFileSync(`demo/sites/${name}.yaml`, "utf8");
/** The mail server refuses `nobody` always, and `returns` the first time only. */
const CREAMERY = demo("creamery")
  .replace("creamery@example.net", "returns@example.net")
  .replace("weekend@example.org", "nobody@example.org");
const BRICKYARD = demo("brickyard").replace("weekend@example.org", "nobody@example.org");

let mail: MailServer;
let desk: FolderDesk;
let page: Page;

beforeAll(async () => {
  mail = await startMailServer();
  const email = `{host: 127.0.0.1, port: ${mail.port}, security: none, from: watch@example.org}`;
  desk = await startFolderDesk(`format: earthbell.desk/1\ndesk: {name: Skerry}\nemail: ${email}\n`, {
    creamery: CREAMERY,
    brickyard: BRICKYARD,
  });
  page = desk.page;
});
afterAll(async () => {
  await desk.stop();
  await mail.stop();
});

const inFolder = (site: string): string => readFileSync(join(desk.folder, "sites", `${site}.yaml`), "utf8");

/** What the desk said of the last change. */
const said = (text: string) => page.locator(".said", { hasText: text });

/** People of whom a path is known to be silent, at the desk as it is. */
async function silentPeople(): Promise<readonly string[]> {
  return await page.evaluate(async () => {
    const alarms = (await (await fetch("/api/alarms")).json()) as readonly {
      readonly sign: string;
      readonly condition: string;
      readonly subject: { readonly person?: string | null };
    }[];
    const people = alarms
      .filter(({ sign, condition }) => sign === "path-silent" && condition === "active")
      .map(({ subject }) => subject.person ?? "");
    return [...new Set(people)].sort();
  });
}

describe("people who are told", () => {
  it("whose mail is refused stand first with the reason; a test that is taken ends the mark and its alarm", async () => {
    await page.goto(`${desk.url}/register/creamery`);
    await page.getByRole("button", { name: "Hold a drill of P1 now" }).click();
    await expect.poll(silentPeople, { timeout: 60_000 }).toEqual(["owner", "weekend"]);
    await page.goto(`${desk.url}/people`);
    await page
      .getByText(/550 5\.1\.1 No mailbox of that name/u)
      .nth(1)
      .waitFor();
    await expectReadable(page);
    await page.getByLabel("Find").fill("returns");
    await page.getByRole("link", { name: "nobody@example.org" }).waitFor({ state: "detached" });
    await page.getByRole("link", { name: "returns@example.net" }).click();
    await page.getByText(/broken since/u).waitFor();
    await page.getByRole("button", { name: /^Send a test and see whether it works again/u }).click();
    await page
      .locator("main")
      .getByText(/^returns@example\.net counts as working again/u)
      .waitFor();
    await expect.poll(() => mail.taken.some(({ to }) => to.includes("returns@example.net"))).toBe(true);
    await page.getByText(/broken since/u).waitFor({ state: "detached" });
    await expect.poll(silentPeople, { timeout: 60_000 }).toEqual(["weekend"]);
  });

  it("get another address in place of a broken one, in every file where it stands", async () => {
    await page.goto(`${desk.url}/people/at/creamery/weekend`);
    await page.getByRole("button", { name: /^Replace this address…/u }).click();
    await page.getByLabel("Address in place of nobody@example.org").fill("relief@example.org");
    await page.getByRole("button", { name: "Show where it changes" }).click();
    await page.getByRole("button", { name: "Change 2 site files" }).click();
    await said("relief@example.org in place of nobody@example.org at 2 sites").waitFor();
    expect(inFolder("creamery")).toBe(CREAMERY.replace("nobody@example.org", "relief@example.org"));
    expect(inFolder("brickyard")).toBe(BRICKYARD.replace("nobody@example.org", "relief@example.org"));
    await expect.poll(silentPeople, { timeout: 60_000 }).toEqual([]);
    await page.goto(`${desk.url}/people`);
    await page.getByRole("link", { name: "relief@example.org" }).waitFor();
    expect(await page.getByText("550 5.1.1").count()).toBe(0);
  });

  it("get hours and an absence by fields, with what they do to the time to notice, at one site alone", async () => {
    await page.goto(`${desk.url}/people/at/creamery/owner`);
    await page.getByLabel("Ends").fill("26:00");
    await page.getByRole("button", { name: "Show what changes" }).click();
    await page.getByText(/has an hour that no day has/u).waitFor();
    await page.getByLabel("Ends").fill("23:00");
    await page.getByRole("button", { name: "Add an absence" }).click();
    await page.getByLabel("First day away").fill("2027-01-04");
    await page.getByLabel("Last day away").fill("2027-02-28");
    await page.getByRole("button", { name: "Show what changes" }).click();
    await page.getByRole("cell", { name: "2027-01-04 to 2027-02-28" }).waitFor();
    await page.getByRole("region", { name: "Until somebody knows at creamery" }).waitFor();
    await page.getByRole("cell", { name: /→/u }).first().waitFor();
    await expectReadable(page);
    await page.getByRole("button", { name: "Change 1 site file" }).click();
    await said("Changed at creamery: ").waitFor();
    const put = inFolder("creamery");
    expect(put).toContain('    reads: "Mon-Sun 05:00-23:00"\n');
    expect(put).toContain("    away: [{from: 2027-01-04, to: 2027-02-28}]\n");
    expect(put).toContain("# Creamery, Hennick.");
    await page.goto(`${desk.url}/audit`);
    await page.getByText(/Changed at creamery: reads: Mon-Sun 05:00-23:00/u).waitFor();
  });
});
