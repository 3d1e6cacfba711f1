import type { Browser, Page } from "@playwright/test";

/** A page of the app, and what stands there once it is of use. */
export interface Place {
  readonly name: string;
  readonly path: string;
  readonly useful: string;
  /** Text that the element has to hold, as a regular expression. */
  readonly text?: string;
  /** What scrolls; the page itself where nothing is named. */
  readonly scrolls?: string;
}

export interface Visited {
  /** Answers of the desk, as sent. */
  readonly bytes: number;
  readonly usefulMs: number;
  /** Processor time of the page until the desk had answered everything. */
  readonly pageCpuMs: number;
  /** Tasks over 50 ms: how many, and the longest. */
  readonly longTasks: number;
  readonly longestTaskMs: number;
  /** Elements of the page. */
  readonly elements: number;
  /** Frames of the scroll, and those that came so late that the ones before stood twice. */
  readonly frames: number;
  readonly lostFrames: number;
}

/** Runs before the page's own script: notes long tasks, and when what is useful first stood there. */
const WATCHER = `({ useful, text }) => {
  const pattern = text === undefined ? null : new RegExp(text, "u");
  const seen = (globalThis.seen = { tasks: [], usefulAt: null });
  new PerformanceObserver((list) => seen.tasks.push(...list.getEntries().map(({ duration }) => duration))).observe({
    type: "longtask",
    buffered: true,
  });
  const look = () => {
    const found = [...document.querySelectorAll(useful)].some(
      ({ textContent }) => pattern === null || pattern.test(textContent),
    );
    if (found) seen.usefulAt = performance.now();
    else requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}`;

/** Runs in the page: scrolls frame by frame and counts the frames that came late. */
const SCROLL = `async (scrolls) => {
  const place = scrolls === undefined ? document.scrollingElement : document.querySelector(scrolls);
  const next = () => new Promise((frame) => requestAnimationFrame(frame));
  let frames = 0;
  let lost = 0;
  for (let before = await next(); frames < 120; frames++) {
    if (place.scrollTop + place.clientHeight >= place.scrollHeight - 1) break;
    place.scrollTop += 400;
    const now = await next();
    lost += Math.max(0, Math.round((now - before) / (1000 / 60)) - 1);
    before = now;
  }
  return { frames, lost };
}`;

/** Opens a place in a browser of its own and looks at what that costs. */
export async function visit(
  browser: Browser,
  { address, token }: { readonly address: string; readonly token: string },
  place: Place,
): Promise<Visited> {
  const context = await browser.newContext({
    ...{ viewport: { width: 1280, height: 900 }, serviceWorkers: "block", bypassCSP: true },
    extraHTTPHeaders: { authorization: `Bearer ${token}` },
  });
  await context.addInitScript('localStorage.setItem("earthbell:signed-in", "yes")');
  await context.addInitScript(`(${WATCHER})(${JSON.stringify(place)})`);
  const page = await context.newPage();
  page.setDefaultTimeout(60_000);
  const answers = await countAnswers(page);
  await answers.devtools.send("Performance.enable", { timeDomain: "threadTicks" });
  await page.goto(`${address}${place.path}`);
  await page.waitForFunction("globalThis.seen?.usefulAt !== null");
  while (answers.open.size > 0) await page.waitForTimeout(50);
  const { metrics } = await answers.devtools.send("Performance.getMetrics");
  const metric = (name: string): number => metrics.find((one) => one.name === name)?.value ?? Number.NaN;
  const usefulMs = await page.evaluate<number>("globalThis.seen.usefulAt");
  const { frames, lost } = await page.evaluate<{ frames: number; lost: number }>(
    `(${SCROLL})(${JSON.stringify(place.scrolls)})`,
  );
  const tasks = await page.evaluate<readonly number[]>("globalThis.seen.tasks");
  await context.close();
  return {
    ...{ bytes: answers.bytes(), usefulMs, pageCpuMs: 1000 * metric("TaskDuration") },
    ...{ longTasks: tasks.length, longestTaskMs: Math.max(0, ...tasks), elements: metric("Nodes") },
    ...{ frames, lostFrames: lost },
  };
}

/** Counts what the desk answers, the stream of what happens left out: it has no end. */
async function countAnswers(page: Page) {
  const devtools = await page.context().newCDPSession(page);
  await devtools.send("Network.enable");
  const open = new Set<string>();
  const asked = new Set<string>();
  let bytes = 0;
  devtools.on("Network.requestWillBeSent", ({ requestId, request }) => {
    const { pathname } = new URL(request.url);
    if (!pathname.startsWith("/api/") || pathname === "/api/live") return;
    open.add(requestId);
    asked.add(requestId);
  });
  devtools.on("Network.loadingFinished", ({ requestId, encodedDataLength }) => {
    if (asked.has(requestId)) bytes += encodedDataLength;
    open.delete(requestId);
  });
  devtools.on("Network.loadingFailed", ({ requestId }) => open.delete(requestId));
  return { devtools, open, bytes: () => bytes };
}
