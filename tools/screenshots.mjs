// Pictures for the README, from the demonstration in a real browser: node tools/screenshots.mjs. Needs the built program in
// dist/ and Chromium (CHROMIUM names it). Writes docs/img/*-light.png and *-dark.png.
import { spawn } from "node:child_process";
import { mkdirSync } from "node:fs";
import { chromium } from "@playwright/test";

const PAGES = [
  ["now", "", "What needs a person"],
  ["register", "register", "Register"],
  ["site", "register/ferry-shed", "Its file"],
  ["papers", "papers/creamery", "Make a paper"],
  ["drift", "drift", "Where to go first"],
];
const PASSWORD = "four plain words here";

const child = spawn(process.execPath, ["dist/earthbell.js", "desk", "--port", "0"]);
let printed = "";
child.stdout.on("data", (text) => (printed += String(text)));

async function says(pattern) {
  for (;;) {
    const found = pattern.exec(printed);
    if (found) return found;
    if (child.exitCode !== null) throw new Error(`The desk ended: ${printed}`);
    await new Promise((resolve) => child.stdout.once("data", resolve));
  }
}

const browser = await chromium.launch({
  executablePath: process.env["CHROMIUM"] ?? "/usr/bin/chromium",
  args: ["--no-sandbox"],
});
try {
  await says(/What happens follows/u);
  const url = (await says(/address\s+(http:\S+)/u))[1];
  const [, first, rest = ""] = await says(/\/join\/(\S+)(?:\n {12}(\S+))?/u);
  const context = await browser.newContext({
    locale: "en-GB",
    timezoneId: "Australia/Hobart",
    viewport: { width: 1180, height: 760 },
    reducedMotion: "reduce",
  });
  const page = await context.newPage();
  page.setDefaultTimeout(60_000);
  await page.goto(`${url}/join/${first}${rest}`);
  await page.getByLabel("Name", { exact: true }).fill("Ann Lee");
  await page.getByLabel("Password").fill(PASSWORD);
  await page.getByRole("button", { name: "Make the account" }).click();
  await page.getByRole("heading", { name: "Ann Lee" }).waitFor();
  // The fault of the demonstration comes a little after its start.
  await page.goto(`${url}/`);
  await page.getByRole("link", { name: "Hennick creamery, array A1" }).waitFor();
  mkdirSync("docs/img", { recursive: true });
  for (const scheme of ["light", "dark"]) {
    await page.emulateMedia({ colorScheme: scheme });
    for (const [name, path, heading] of PAGES) {
      await page.goto(`${url}/${path}`);
      await page.getByRole("heading", { name: heading, exact: true }).waitFor();
      // Parts of a page that come apart.
      await page.waitForFunction(() => !/Opening…|Asking the desk…/u.test(document.body.innerText));
      if (name === "papers") {
        await page.getByRole("button", { name: "Look at a draft" }).click();
        await page.frameLocator("iframe").getByRole("heading", { level: 1 }).waitFor();
        await page.getByRole("heading", { name: heading, exact: true }).scrollIntoViewIfNeeded();
        await page.evaluate(() => window.scrollBy(0, 560));
      }
      if (name === "drift") {
        await page.getByText("Its history").first().click();
        await page.locator("figure.drawing svg").first().waitFor();
        await page.evaluate(() => window.scrollBy(0, 330));
      }
      await page.screenshot({ path: `docs/img/${name}-${scheme}.png` });
    }
  }
} finally {
  await browser.close();
  child.kill("SIGTERM");
}
