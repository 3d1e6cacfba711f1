import { type Browser, type BrowserContext, chromium, type Page } from "@playwright/test";
import { type ChildProcess, spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { saying } from "./desk-process.ts";
import { accessFaults, BROWSER, newContext, newPage } from "./web-browser.ts";

/** What a hostile name or remark would do if a page took it for markup. */
const PAYLOAD = `<img src=x onerror="window.taken=1">`;
const PASSWORD = "four plain words here";

let child: ChildProcess;
let says: ReturnType<typeof saying>;
let browser: Browser;
let context: BrowserContext;
let page: Page;
let complaints: string[];
let url: string;
let token: string;

async function asked(path: string, method: string, body: string, type: string, by = token): Promise<unknown> {
  const headers = { authorization: `Bearer ${by}`, "content-type": type };
  const response = await fetch(url + path, { method, headers, body });
  if (!response.ok) throw new Error(`${path}: ${await response.text()}`);
  return await response.json();
}

/** Puts a site in whose name is hostile. */
async function putHostileSite(): Promise<void> {
  const text = readFileSync("demo/sites/creamery.yaml", "utf8")
    .replace("id: creamery", "id: hostile")
    .replace("name: Hennick creamery", `name: '${PAYLOAD}'`);
  await asked("/api/sites/hostile", "PUT", text, "text/yaml");
}

async function pushFault(): Promise<void> {
  const label = JSON.stringify({ label: "test" });
  const made = await asked("/api/sites/hostile/tokens", "POST", label, "application/json");
  const at = Date.now();
  const reading = { array: "A1", device: "INV1", at, kind: "earth-fault-bit", value: true, unit: "bit" };
  const body = JSON.stringify({ readings: [reading] });
  const { token: own } = made as { token: string };
  await asked("/api/push/readings", "POST", body, "application/json", own);
}

beforeAll(async () => {
  child = spawn(process.execPath, ["dist/earthbell.js", "desk", "--port", "0"]);
  says = saying(child);
  browser = await chromium.launch(BROWSER);
  context = await newContext(browser);
  ({ page, complaints } = await newPage(context));
  await says(/What happens follows/u);
  url = (await says(/address\s+(http:\S+)/u))[1]!;
  token = (await says(/\n {2}token\s+(eb_\S+)/u))[1]!;
});
afterAll(async () => {
  await browser.close();
  const ended = new Promise((resolve) => child.once("exit", resolve));
  child.kill("SIGTERM");
  await ended;
});

describe("a desk in the browser", () => {
  it("signed out keeps what needs no desk, and says where to sign in", async () => {
    await page.goto(`${url}/`);
    await page.getByRole("link", { name: "Sign in" }).waitFor();
    await page.getByRole("heading", { name: "What is under way" }).waitFor();
    expect(await page.getByRole("navigation").getByRole("link", { name: "People" }).count()).toBe(0);
    await page.goto(`${url}/register`);
    await page.getByRole("heading", { name: "Sign in" }).waitFor();
    expect(await accessFaults(page)).toEqual([]);
  });

  it("lets the first person in by the link that was printed, by keyboard alone, once", async () => {
    const [, first, rest = ""] = await says(/\/join\/(\S+)(?:\n {12}(\S+))?/u);
    const join = `${url}/join/${first!}${rest}`;
    await page.goto(join);
    const make = page.getByRole("button", { name: "Make the account" });
    await make.waitFor();
    expect(await accessFaults(page)).toEqual([]);
    const name = page.getByLabel("Name", { exact: true });
    for (let i = 0; i < 30 && !(await name.evaluate((at) => at === document.activeElement)); i++)
      await page.keyboard.press("Tab");
    await page.keyboard.type("Ann Lee");
    await page.keyboard.press("Tab");
    await page.keyboard.type("too short");
    expect(await make.isDisabled()).toBe(true);
    await page.keyboard.press("Control+A");
    await page.keyboard.type(PASSWORD);
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "Ann Lee" }).waitFor();
    await page.goto(join);
    await page.getByText("ACCOUNT_LINK_SPENT").waitFor();
  });

  it("signs out, refuses a wrong password in words, and signs in", async () => {
    await page.goto(`${url}/account`);
    await page.getByRole("button", { name: "Sign this browser out" }).click();
    await page.getByLabel("Name", { exact: true }).fill("Ann Lee");
    await page.getByLabel("Password").fill("not the password");
    await page.getByRole("button", { name: "Sign in" }).click();
    await page.getByRole("alert").filter({ hasText: "do not fit together" }).waitFor();
    await page.getByLabel("Password").fill(PASSWORD);
    await page.getByRole("button", { name: "Sign in" }).click();
    await page.getByRole("heading", { name: "Ann Lee" }).waitFor();
  });

  it("shows the fault of the simulated creamery, and a new one as it comes, without a reload", async () => {
    await page.goto(`${url}/`);
    await page.getByRole("link", { name: "Hennick creamery, array A1" }).waitFor();
    await putHostileSite();
    await page.evaluate(() => Object.assign(window, { sameVisit: true }));
    await pushFault();
    const matter = page.getByRole("listitem").filter({ hasText: PAYLOAD });
    await matter.locator("strong", { hasText: "Unanswered" }).waitFor();
    await expect
      .poll(async () => await page.locator(".unseen[role=status]").textContent())
      .toContain(PAYLOAD);
    expect(await page.evaluate(() => "sameVisit" in window)).toBe(true);
  });

  it("takes a case from its answer to a remark, and says what is missing to close it", async () => {
    await page.goto(`${url}/`);
    await page.getByRole("link", { name: `${PAYLOAD}, array A1` }).click();
    await page.getByRole("heading", { name: "Before anybody goes there" }).waitFor();
    await page.getByText("Signing opens once its alarms").waitFor();
    await page.getByRole("button", { name: "Acknowledge as Ann Lee" }).click();
    await page.getByText("There, answered").waitFor();
    await page.getByLabel(/^Remark for everybody/u).fill(PAYLOAD);
    await page.getByRole("button", { name: "Add the remark" }).click();
    await page
      .getByRole("listitem")
      .filter({ hasText: `Ann Lee: ${PAYLOAD}` })
      .waitFor();
    await page.getByRole("button", { name: "Close the case as Ann Lee" }).click();
    const refusal = page.getByRole("alert").filter({ hasText: "CASE_NEEDS_UNMET" });
    await refusal.waitFor();
    expect(await refusal.textContent()).toContain("The fault is still there");
    expect(await page.evaluate(() => "taken" in window)).toBe(false);
    expect(await page.locator("main img").count()).toBe(0);
  });

  it("begins a visit with the strings of the site's file", async () => {
    await page.getByRole("button", { name: "Begin a visit there" }).click();
    const where = page.getByLabel("Where");
    await expect.poll(async () => await where.inputValue(), { timeout: 60_000 }).toBe(`${PAYLOAD}, A1`);
    expect(await page.getByLabel("Modules in series").first().inputValue()).toBe("13");
  });

  it("holds a drill of a path and waits for its people", async () => {
    await page.goto(`${url}/register/creamery`);
    await page.getByRole("button", { name: "Hold a drill of P1 now" }).click();
    await page.getByText(/Under way until/u).waitFor();
    await page.goto(`${url}/`);
    await page.getByText(/A drill waits for .*owner/u).waitFor();
  });

  it("invites somebody by a link that is shown once", async () => {
    await page.goto(`${url}/people/accounts`);
    await page.getByLabel("As").selectOption("owner");
    expect(await page.getByRole("button", { name: "Make a link" }).isDisabled()).toBe(true);
    await page.getByLabel("For these sites").fill("creamery");
    await page.getByRole("button", { name: "Make a link" }).click();
    await page.locator(".once").waitFor();
    const link = (await page.locator(".once").textContent()) ?? "";
    expect(new URL(link).origin).toBe(url);
    await page.reload();
    await page.getByRole("heading", { name: "Invite somebody" }).waitFor();
    expect(await page.locator(".once").count()).toBe(0);
  });

  it("tries a way of telling out, and shows what was said", async () => {
    await page.goto(`${url}/settings`);
    await page.getByRole("button", { name: "Try it out… (E-mail)" }).click();
    await page.getByLabel("Address to send a test to").fill("ben@example.org");
    await page.getByRole("button", { name: "Send a test" }).click();
    await page.getByText("Laid into the tray: the settings").waitFor();
    expect(await accessFaults(page)).toEqual([]);
  });

  it("goes through the chain of the journal, and finds what somebody did", async () => {
    await page.goto(`${url}/audit`);
    await page.getByRole("button", { name: "Check the whole chain" }).click();
    await page.locator("strong", { hasText: "Holds" }).waitFor();
    await page.getByLabel("By", { exact: true }).fill("Ann Lee");
    await page.getByLabel("Find", { exact: true }).fill("test by email");
    const found = page.getByText("Test by email to ben@example.org: accepted");
    for (const again of [false, true]) {
      if (again) await page.reload();
      await found.waitFor();
      await expect.poll(async () => await page.locator("main ol > li").count()).toBe(1);
    }
  });

  it.each([
    ["register", "Show", "case"],
    ["cases", "Which", "closed"],
    ["messages", "Which", "refused"],
    ["papers", "Show", "outdated"],
    ["drift", "In the order of", "days"],
    ["people", "Which", "broken"],
    ["audit", "Of", "case"],
  ])(
    "keeps in the address of %s what is chosen there, and takes no other for it",
    async (place, label, choice) => {
      await page.goto(`${url}/${place}`);
      const field = page.getByLabel(label, { exact: true });
      const plain = await field.inputValue();
      await field.selectOption(choice);
      await page.waitForURL((now) => [...now.searchParams.values()].join() === choice);
      const chosen = page.url();
      await page.goto(chosen);
      expect(await field.inputValue()).toBe(choice);
      await page.goto(chosen.replace(choice, "nonsense"));
      expect(await field.inputValue()).toBe(plain);
      await page.goto(chosen);
      await field.selectOption(plain);
      await page.waitForURL(`${url}/${place}`);
    },
  );

  it("says that a rule pack of its own is in force, by whom and why", async () => {
    await page.goto(`${url}/rules/au-nz-5033-2014`);
    await page.locator("strong", { hasText: "Overridden" }).waitFor();
    await page.getByText(/By Maren Tolv.*notice 12 of 2026/u).waitFor();
  });

  it("lets an owner look at the own site by a link and change nothing, until it is revoked", async () => {
    await page.goto(`${url}/people/accounts`);
    await page.getByLabel("Owner", { exact: true }).fill("Owner of the creamery");
    await page.getByLabel("May look at").fill("creamery");
    await page.getByRole("button", { name: "Make an owner’s link" }).click();
    const link = (await page.locator(".once").textContent()) ?? "";
    const elsewhere = await newContext(browser);
    const { page: owner } = await newPage(elsewhere);
    await owner.goto(link);
    await owner.getByRole("heading", { name: "Register" }).waitFor();
    await owner.getByRole("link", { name: "Hennick creamery" }).waitFor();
    expect(await owner.getByRole("navigation").getByRole("link", { name: "People" }).count()).toBe(0);
    await owner.goto(`${url}/register/creamery`);
    await owner.getByRole("heading", { name: "Paths and their drills" }).waitFor();
    expect(await owner.getByRole("button", { name: /^Hold a drill/u }).count()).toBe(0);
    expect(await accessFaults(owner)).toEqual([]);
    await page.getByRole("button", { name: "Revoke this link of Owner of the creamery" }).click();
    await page.getByRole("button", { name: /^Revoke this link/u }).waitFor({ state: "detached" });
    await owner.getByRole("navigation", { name: "Places" }).getByRole("link", { name: "Register" }).click();
    await owner.getByRole("heading", { name: "The link has ended" }).waitFor();
    // Nor hidden behind it.
    expect(await owner.getByText("Hennick creamery").count()).toBe(0);
    await elsewhere.close();
  });
});

const PLACES = [
  ["", "What needs a person"],
  ["account", "Ann Lee"],
  ["cases", "Cases"],
  ["cases/C1", "What happened"],
  ["register", "Register"],
  ["register/creamery", "Its file"],
  ["register/creamery/file", "File of creamery"],
  ["site-file", "Put a site file in"],
  ["table", "Changes by a table"],
  ["papers", "What is due, in your calendar"],
  ["papers/creamery", "Make a paper"],
  ["drift", "Drift"],
  ["messages", "Messages"],
  ["people", "People"],
  ["people/at/creamery/desk", "Hours and absences"],
  ["people/accounts", "Accounts"],
  ["settings", "Ways of telling"],
  ["audit", "Rows"],
  ["rules", "This desk’s own"],
] as const;

describe("every page of the desk", () => {
  for (const scheme of ["light", "dark"] as const)
    it.each(PLACES)(`keeps to WCAG 2.2 AA in ${scheme}: /%s`, async (place, heading) => {
      await page.emulateMedia({ colorScheme: scheme });
      await page.goto(`${url}/${place}`);
      await page.getByRole("heading", { name: heading, exact: true }).waitFor();
      expect(await accessFaults(page)).toEqual([]);
    });

  it.each([390, 320])("fits a screen of %i px without scrolling sideways", async (width) => {
    await page.setViewportSize({ width, height: 800 });
    for (const [place, heading] of PLACES) {
      await page.goto(`${url}/${place}`);
      // A part that folds there has its standing in its heading.
      await page.getByRole("heading", { name: heading }).first().waitFor();
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      expect([place, wide <= width]).toEqual([place, true]);
    }
  });

  it("gives the browser nothing to complain of but the refusals that were provoked", () => {
    expect(complaints.filter((text) => !/status of (?:401|409|410)/u.test(text))).toEqual([]);
  });
});
