import { AxeBuilder } from "@axe-core/playwright";
import {
  type Browser,
  type BrowserContext,
  type BrowserContextOptions,
  chromium,
  type Locator,
  type Page,
} from "@playwright/test";
import { startWebServer, type WebServer } from "./web-server.ts";

const QUIET = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-background-networking",
  "--disable-component-update",
  "--no-first-run",
];
/** A page counts as seen whether or not the machine is busy: one held to be hidden gets no frames, and a click waits for them. */
const AWAKE = [
  "--disable-backgrounding-occluded-windows",
  "--disable-renderer-backgrounding",
  "--disable-background-timer-throttling",
];

/** How every test starts a browser, kept on disk or not. */
export const BROWSER = {
  executablePath: process.env["CHROMIUM"] ?? "/usr/bin/chromium",
  args: [...QUIET, ...AWAKE],
};

export interface OpenWeb {
  readonly server: WebServer;
  readonly browser: Browser;
  readonly close: () => Promise<void>;
}

/** The built app behind its own server, in a real browser that talks to nobody else. */
export async function openWeb(): Promise<OpenWeb> {
  const server = await startWebServer();
  const browser = await chromium.launch(BROWSER);
  const close = async (): Promise<void> => {
    await browser.close();
    await server.stop();
  };
  return { server, browser, close };
}

export interface Watched {
  readonly page: Page;
  /** Whatever the browser complained of: errors of scripts, of the page's policy, of resources. */
  readonly complaints: string[];
}

export async function newPage(context: BrowserContext): Promise<Watched> {
  const page = await context.newPage();
  page.setDefaultTimeout(60_000);
  const complaints: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error") complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  return { page, complaints };
}

/** A context in one place and language, so that dates and numbers are alike on every machine. */
export async function newContext(
  browser: Browser,
  options: BrowserContextOptions = {},
): Promise<BrowserContext> {
  return await browser.newContext({
    locale: "en-GB",
    timezoneId: "Australia/Hobart",
    viewport: { width: 1280, height: 900 },
    ...options,
  });
}

/** What axe finds against WCAG 2.2 A and AA, each as its rule with the first element concerned. */
export async function accessFaults(page: Page): Promise<readonly string[]> {
  const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
  // The page itself: nothing may run in the closed frame of a draft, so a look into it would wait for ever.
  const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).withTags(tags).analyze();
  return violations.map(
    ({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(" ")).join(", ")}`,
  );
}

/** Opens the example visit and waits for what its readings say; answers the address of the visit. */
export async function openExample(page: Page, address: string): Promise<string> {
  await page.goto(`${address}/visits`);
  await page.getByRole("button", { name: "Open the example" }).click();
  await page.locator(".verdict").waitFor();
  return page.url();
}

/** Begins a visit of one string of so many modules, and waits for its first step. */
export async function beginVisit(page: Page, address: string, modules: number): Promise<void> {
  await page.goto(`${address}/visits/new`);
  await page.getByLabel("Modules in series").fill(String(modules));
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  await page.getByRole("button", { name: "I have read these" }).waitFor();
}

/** Reads the cautions and ticks every precondition of the step that is shown, by mouse. */
export async function makeSure(page: Page): Promise<void> {
  const read = page.getByRole("button", { name: "I have read these" });
  if ((await read.count()) > 0) await read.click();
  const step = page.getByRole("region", { name: "Next step" });
  for (const box of await step.getByRole("checkbox").all()) await box.check();
}

export async function enterReading(page: Page, value: string): Promise<void> {
  const field = page.locator("input.big");
  const before = await page.getByRole("button", { name: /^Take away reading/u }).count();
  await field.fill(value);
  await field.press("Enter");
  await page.getByRole("button", { name: `Take away reading ${before + 1}` }).waitFor();
}

/** Whether the whole height of something is on the screen. */
export async function onScreen(what: Locator): Promise<boolean> {
  return await what.evaluate((element) => {
    const { top, bottom } = element.getBoundingClientRect();
    return top >= 0 && bottom <= (element.ownerDocument.defaultView?.innerHeight ?? 0);
  });
}
