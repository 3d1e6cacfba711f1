/**
 * What a browser fetches before the first page can be read: every script and style of the first load of the built app, as sent
 * compressed. Signed out and signed in are other pages, so both are measured. Writes bench/results/web-bundle.md.
 * Run: npm run build && npm run bench -- web-bundle
 */
import { chromium } from "@playwright/test";
import { readFileSync, writeFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { startDesk } from "../e2e/desk-process.ts";
import { BROWSER } from "../e2e/web-browser.ts";
import { signIn } from "./web/sign-in.ts";

/** Asked of the scripts of the first load [kB]. */
const MOST_KILOBYTES = 250;

const desk = await startDesk();
const browser = await chromium.launch(BROWSER);
const rows: string[] = [];
try {
  for (const [who, heading] of [
    ["nobody signed in", "What is under way"],
    ["Now, signed in at a desk", "What needs a person"],
  ] as const) {
    const context = await browser.newContext({ serviceWorkers: "block" });
    if (who !== "nobody signed in") await signIn(await context.newPage(), desk);
    const page = await context.newPage();
    page.setDefaultTimeout(120_000);
    const paths = new Set<string>();
    page.on("request", (request) => paths.add(new URL(request.url()).pathname));
    await page.goto(desk.url);
    await page.getByRole("heading", { name: heading }).waitFor();
    const kilobytes = (ending: string): number =>
      [...paths]
        .filter((path) => path.endsWith(ending))
        .reduce((sum, path) => sum + gzipSync(readFileSync(`dist/web${path}`)).length / 1000, 0);
    const scripts = kilobytes(".js");
    rows.push(
      `| ${who} | ${scripts.toFixed(1)} kB | ${kilobytes(".css").toFixed(1)} kB | ${MOST_KILOBYTES} kB | ${scripts <= MOST_KILOBYTES ? "holds" : "does not hold"} |`,
    );
    await context.close();
  }
} finally {
  await browser.close();
  await desk.stop();
}
const report = `# What the first load of the web app fetches

Date ${new Date().toISOString().slice(0, 10)}. Regenerate with \`npm run build && npm run bench -- web-bundle\`. Sizes after gzip; fonts apart.

| first page | scripts | styles | asked of the scripts | |
|---|---|---|---|---|
${rows.join("\n")}
`;
writeFileSync("bench/results/web-bundle.md", report);
console.log(report);
