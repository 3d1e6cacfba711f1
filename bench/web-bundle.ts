/**
 * What a browser fetches before the first page can be read: every script and style of the first load of the built app, as sent
 * compressed. Signed out and signed in are other pages, so both are measured. Writes bench/results/web-bundle.md.
 * Run: npm run build && npm run bench -- web-bundle
 */
import { chromium } from "@playwright/test";
import { readFileSync, writeFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { servedApp } from "./web/served-app.ts";

/** Asked of the scripts of the first load [kB]. */
const MOST_KILOBYTES = 250;
const SIGNED_IN = {
  "/healthz": { state: "well", text: "" },
  "/api/me": { name: "Ann Lee", role: "service", sites: null },
  "/api/now": {
    ...{ cases: [], alarms: [], drills: [], names: {}, watched: 0, quiet: 0, unjudged: 0, lastPassed: null },
    more: { unanswered: 0, present: 0, silent: 0, missed: 0, unsigned: 0, drills: 0, upkeep: 0 },
    ...{ unserved: { first: [], count: 0 }, unproved: { first: [], count: 0 } },
  },
  "/api/broken-addresses": [],
  "/api/listeners": [],
};

const browser = await chromium.launch({
  executablePath: process.env["CHROMIUM"] ?? "/usr/bin/chromium",
  args: ["--no-sandbox"],
});
const rows: string[] = [];
try {
  for (const [who, answers, heading] of [
    ["nobody signed in", {}, "What is under way"],
    ["Now, signed in at a desk", SIGNED_IN, "What needs a person"],
  ] as const) {
    const app = await servedApp(answers);
    const context = await browser.newContext({ serviceWorkers: "block" });
    if (who !== "nobody signed in")
      await context.addInitScript('localStorage.setItem("earthbell:signed-in", "yes")');
    const page = await context.newPage();
    page.setDefaultTimeout(120_000);
    const paths = new Set<string>();
    page.on("request", (request) => paths.add(new URL(request.url()).pathname));
    await page.goto(app.address);
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
    app.stop();
  }
} finally {
  await browser.close();
}
const report = `# What the first load of the web app fetches

Date ${new Date().toISOString().slice(0, 10)}. Regenerate with \`npm run build && npm run bench -- web-bundle\`. Sizes after gzip; fonts apart.

| first page | scripts | styles | asked of the scripts | |
|---|---|---|---|---|
${rows.join("\n")}
`;
writeFileSync("bench/results/web-bundle.md", report);
console.log(report);
