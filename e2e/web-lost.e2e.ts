import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type FolderDesk, startFolderDesk } from "./folder-desk.ts";
import { accessFaults } from "./web-browser.ts";

let desk: FolderDesk;
beforeAll(async () => {
  desk = await startFolderDesk("format: earthbell.desk/1\ndesk: {name: Skerry}\n", {
    creamery: readFileSync("demo/sites/creamery.yaml", "utf8"),
  });
});
afterAll(async () => {
  await desk.stop();
});

describe("a page whose desk is lost", () => {
  it("says since when it is not heard, and takes that back by itself once it is", async () => {
    const { page, url } = desk;
    await page.goto(url);
    await page.getByRole("heading", { name: "What stands behind this page" }).waitFor();
    const notHeard = page.getByText(/Desk not heard since .* alarms since then are not shown/u);
    await page.context().setOffline(true);
    await notHeard.waitFor();
    expect(await accessFaults(page)).toEqual([]);
    await page.context().setOffline(false);
    await notHeard.waitFor({ state: "detached" });
  });

  it("says after a cold start what it shows and what is not known, and asks again when told to or when signal is back", async () => {
    const { page, url } = desk;
    await page.goto(url);
    await page.getByText("works without signal").waitFor();
    await page.context().setOffline(true);
    await page.reload();
    const unknown = page.getByText(/Desk not reached.*what this device keeps.*at the sites is not known/u);
    await unknown.waitFor();
    expect(await accessFaults(page)).toEqual([]);
    await page.getByRole("button", { name: "Ask the desk now" }).click();
    await page
      .getByRole("main")
      .getByText(/^Asked .*: no answer\./u)
      .waitFor();
    await page.context().setOffline(false);
    await page.getByRole("heading", { name: "What stands behind this page" }).waitFor();
    expect(await unknown.count()).toBe(0);
  });

  it("keeps what was typed while its reader has to sign in again", async () => {
    const { page, url } = desk;
    await page.goto(`${url}/people/accounts`);
    const owner = page.getByLabel("Owner", { exact: true });
    await owner.fill("Dairy of the north shore");
    await page.getByLabel("May look at").fill("creamery");
    await page.context().clearCookies();
    await page.getByRole("button", { name: "Make an owner’s link" }).click();
    await page.getByText("The desk no longer knows this browser.").waitFor();
    expect(await owner.isVisible()).toBe(false);
    const signIn = page
      .locator("form")
      .filter({ has: page.getByRole("button", { name: "Sign in", exact: true }) });
    await signIn.getByLabel("Name").fill("Ann Lee");
    await signIn.getByLabel("Password").fill("four plain words here");
    await signIn.getByRole("button", { name: "Sign in", exact: true }).click();
    await owner.waitFor();
    expect(await owner.inputValue()).toBe("Dairy of the north shore");
    await page.getByRole("button", { name: "Make an owner’s link" }).click();
    await page.getByText(/\/look\//u).waitFor();
  });

  it("asks a question that the desk was too busy for again by itself, and shows the answer", async () => {
    const { page, url } = desk;
    await page.clock.install();
    let busy = true;
    const error = { code: "REQUEST_NOT_STORED", message: "The desk is busy." };
    await page.route(/\/api\/now/u, async (route) => {
      if (busy) await route.fulfill({ status: 503, json: { error } });
      else await route.fallback();
    });
    await page.goto(url);
    const said = page.getByRole("alert").filter({ hasText: "The desk is busy. REQUEST_NOT_STORED" });
    await said.waitFor();
    busy = false;
    await page.clock.fastForward(10_000);
    await page.getByRole("heading", { name: "What stands behind this page" }).waitFor();
    expect(await said.count()).toBe(0);
    await page.unrouteAll();
  });
});
