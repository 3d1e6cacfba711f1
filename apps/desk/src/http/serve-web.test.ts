import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { DAWN, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

const FEW = 5;
let folder: string;
let desk: ServedDesk;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "earthbell-web-"));
  mkdirSync(join(folder, "assets"));
  writeFileSync(join(folder, "index.html"), "<!doctype html><title>page</title>");
  for (const name of [
    "index-a1.js",
    "style-a1.css",
    "letters-a1.woff2",
    "engine.worker-a1.js",
    "drawing-a1.svg",
  ])
    writeFileSync(join(folder, "assets", name), "/* */");
  desk = await servedDesk(() => DAWN, { webFolder: folder, requestsPerMinute: FEW });
});
afterAll(async () => {
  await desk.close();
  rmSync(folder, { recursive: true });
});

const headersOf = async (url: string) =>
  (await desk.app.inject({ method: "GET", url, headers: { accept: "text/html" } })).headers;

describe("a file of the web app", () => {
  it.each(["/assets/index-a1.js", "/assets/style-a1.css", "/assets/letters-a1.woff2"])(
    "that a page loads, %s, comes without the headers of a page, and as often as it is asked for",
    async (url) => {
      for (let asked = 0; asked < FEW; asked++) await headersOf(url);
      const { statusCode, headers } = await desk.app.inject({ method: "GET", url });
      expect(statusCode).toBe(200);
      expect(headers).toMatchObject({
        "x-content-type-options": "nosniff",
        "cross-origin-resource-policy": "same-origin",
        "cache-control": "public, max-age=31536000, immutable",
      });
      expect(
        Object.keys(headers).filter((name) => /security-policy|frame|opener|ratelimit/u.test(name)),
      ).toEqual([]);
    },
  );

  it.each(["/", "/register/hall", "/assets/engine.worker-a1.js", "/assets/drawing-a1.svg"])(
    "that is a page, a worker or a drawing, %s, says what may run in it",
    async (url) => {
      expect(await headersOf(url)).toMatchObject({
        "content-security-policy": expect.stringContaining("script-src 'self'") as string,
        "x-content-type-options": "nosniff",
      });
    },
  );
});
