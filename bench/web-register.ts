/**
 * The register with 20,000 sites in a real browser: how long from a key to the rows that it leaves, from another order to its
 * first row, and whether a fast scroll ever paints a place without rows. The desk behind it is replaced by its answers; the app
 * is the built one. Writes bench/results/web-register.{json,md}.
 * Run: npm run build && npm run bench -- web-register
 */
import { chromium, type Page } from "@playwright/test";
import { writeFileSync } from "node:fs";
import { loadavg } from "node:os";
import { servedApp } from "./web/served-app.ts";

const SITES = 20_000;
/** Asked of the program [ms]. */
const MOST_MS = 50;
const ISLES = ["Tolva", "Hennick", "Skerry", "Orrin", "Vassay", "Lamb Holm", "Sület", "Nóra"];
const USES = ["creamery", "kirk hall", "boathouse", "pump house", "cannery", "mill", "school", "clinic"];

function site(index: number) {
  const name = `${ISLES[index % 8]!} ${USES[Math.floor(index / 8) % 8]!} ${index}`;
  return {
    ...{
      id: `site-${index}`,
      name,
      revision: 1 + (index % 5),
      putAt: 1.7e12 + index * 1e6,
      putBy: "Ann Lee",
    },
    ...{
      arrays: 1 + (index % 4),
      openCases: index % 97 === 0 ? 1 : 0,
      activeAlarms: index % 31 === 0 ? 1 : 0,
    },
    ...{
      silentPaths: index % 53 === 0 ? 1 : 0,
      drillPassedAt: index % 3 === 0 ? 1.75e12 + index * 1e5 : null,
    },
    insulation: index % 2 === 0 ? { ohms: 1000 * (1 + ((index * 7919) % 5000)), at: 1.76e12 } : null,
    standing: {
      ...{ onDate: "2026-11-25", duty: index % 9 === 0 ? "undecided" : "required", thresholdOhms: 30_000 },
      ...{ path: index % 4 === 0 ? "meets" : "unproven", provedOn: index % 5 === 0 ? "2026-02-03" : null },
    },
  };
}

/** Runs in the page: puts a value into a field as typing does, and waits until the page says what is expected. */
const CHANGE = `async ({ label, value, expected, where }) => {
  const id = [...document.querySelectorAll("label")].find((one) => one.textContent === label).htmlFor;
  const field = document.getElementById(id);
  const begun = performance.now();
  Object.getOwnPropertyDescriptor(Object.getPrototypeOf(field), "value").set.call(field, value);
  field.dispatchEvent(new Event(field.tagName === "SELECT" ? "change" : "input", { bubbles: true }));
  while (!document.querySelector(where)?.textContent.includes(expected)) {
    if (performance.now() - begun > 60000) throw new Error(where + " never said " + expected);
    await new Promise((again) => { const { port1, port2 } = new MessageChannel(); port1.onmessage = again; port2.postMessage(0); });
  }
  // Layout is part of what a person waits for.
  document.body.getBoundingClientRect();
  return performance.now() - begun;
}`;

/** Runs in the page: scrolls frame by frame and counts the frames in which some height of the list had no row when it was painted. */
const SCROLL = `async (pixels) => {
  const rows = document.querySelector(".rows");
  rows.scrollTop = 0;
  let frames = 0;
  let blank = 0;
  while (rows.scrollTop + rows.clientHeight < rows.scrollHeight - 1 && frames < 600) {
    rows.scrollTop += pixels;
    await new Promise((next) => requestAnimationFrame(next));
    const { top, bottom, left } = rows.getBoundingClientRect();
    frames += 1;
    for (let y = top + 60; y < Math.min(bottom, window.innerHeight) - 4; y += 20)
      if (!document.elementFromPoint(left + 30, y)?.closest(".line")) {
        blank += 1;
        break;
      }
  }
  return { frames, blank };
}`;

interface Asked {
  readonly label: string;
  readonly value: string;
  readonly expected: string;
  readonly where: string;
}

function change(page: Page, asked: Asked): Promise<number> {
  return page.evaluate(`(${CHANGE})(${JSON.stringify(asked)})`);
}

function blankFrames(page: Page, step: number): Promise<{ readonly frames: number; readonly blank: number }> {
  return page.evaluate(`(${SCROLL})(${String(step)})`);
}

const sites = Array.from({ length: SITES }, (_, index) => site(index));
const app = await servedApp({
  "/healthz": { state: "well", text: "" },
  "/api/me": { name: "Ann Lee", role: "service", sites: null },
  "/api/sites": sites,
});
const browser = await chromium.launch({
  executablePath: process.env["CHROMIUM"] ?? "/usr/bin/chromium",
  args: ["--no-sandbox"],
});
try {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 900 },
    serviceWorkers: "block",
  });
  await context.addInitScript('localStorage.setItem("earthbell:signed-in", "yes")');
  const page = await context.newPage();
  page.setDefaultTimeout(120_000);
  await page.goto(`${app.address}/register`);
  await page.getByText(`${SITES} sites`).waitFor();
  const times: { readonly what: string; readonly ms: number }[] = [];
  const words = "skerry pump 11";
  const found = { label: "Find", where: "p.row [role=status]" };
  const order = { label: "In the order of", where: '[aria-rowindex="2"]' };
  for (let round = 0; round < 3; round++) {
    for (let length = 1; length <= words.length; length++) {
      const typed = words.slice(0, length);
      const parts = typed.split(" ").filter(Boolean);
      const left = sites.filter(({ id, name }) =>
        parts.every((word) =>
          `${id} ${name}`.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().includes(word),
        ),
      ).length;
      const said = left === SITES ? `${SITES} sites` : `${left} of ${SITES} sites`;
      times.push({ what: "key", ms: await change(page, { ...found, value: typed, expected: said }) });
    }
    await change(page, { ...found, value: "", expected: `${SITES} sites` });
    for (const [by, first] of [
      ["name", "Hennick boathouse"],
      ["id", "Tolva creamery 0"],
      ["insulation", "Tolva boathouse 10000"],
      ["put", `${SITES - 1}`],
      ["need", "One open case"],
    ] as const)
      times.push({ what: "order", ms: await change(page, { ...order, value: by, expected: first }) });
  }
  const scrolls = [];
  for (const step of [200, 1500, 6000]) scrolls.push({ step, ...(await blankFrames(page, step)) });
  const figure = (what: string) => {
    const own = times
      .filter((one) => one.what === what)
      .map(({ ms }) => ms)
      .sort((a, b) => a - b);
    const at = (share: number): number => own[Math.min(own.length - 1, Math.floor(share * own.length))]!;
    return { what, count: own.length, median: at(0.5), worst: at(1) };
  };
  const figures = [figure("key"), figure("order")];
  const result = {
    date: new Date().toISOString().slice(0, 10),
    sites: SITES,
    load: loadavg()[0],
    figures,
    scrolls,
  };
  writeFileSync("bench/results/web-register.json", `${JSON.stringify(result, null, 2)}\n`);
  writeFileSync("bench/results/web-register.md", report(result));
  console.log(report(result));
} finally {
  await browser.close();
  app.stop();
}

function report(result: {
  readonly date: string;
  readonly load: number | undefined;
  readonly figures: readonly { what: string; count: number; median: number; worst: number }[];
  readonly scrolls: readonly { step: number; frames: number; blank: number }[];
}): string {
  const names: Readonly<Record<string, string>> = {
    key: "a key in the field that finds sites, to the rows it leaves",
    order: "another order, to its first row",
  };
  return `# The register with ${SITES} sites in a browser

Date ${result.date}, Chromium, load of the machine ${result.load?.toFixed(1) ?? "not known"}. Regenerate with \`npm run build && npm run bench -- web-register\`.

| what | times | median | worst | asked |
|---|---|---|---|---|
${result.figures.map(({ what, count, median, worst }) => `| ${names[what]!} | ${count} | ${median.toFixed(0)} ms | ${worst.toFixed(0)} ms | ${MOST_MS} ms |`).join("\n")}

| scroll a frame | frames | with a place without rows |
|---|---|---|
${result.scrolls.map(({ step, frames, blank }) => `| ${step} px | ${frames} | ${blank} |`).join("\n")}
`;
}
