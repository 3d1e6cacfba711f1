import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { BUILT_IN_PACKS, type Site } from "@earthbell/engine";
import { readSite } from "@earthbell/model";
import { build } from "esbuild";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { CREAMERY } from "../http/served-desk.fixture.ts";
import { judgeNow, judging } from "./judging.ts";

describe("the thread that judges sites", () => {
  let folder: string;
  let worker: URL;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "earthbell-judge-"));
    const outfile = join(folder, "judge-worker.mjs");
    await build({
      entryPoints: ["apps/desk/src/judge/judge-worker.ts"],
      outfile,
      bundle: true,
      platform: "node",
      format: "esm",
    });
    worker = pathToFileURL(outfile);
  });
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  const job = () => {
    const read = readSite(CREAMERY, "creamery.yaml");
    if (!read.ok) throw new Error("The site of the demonstration has faults.");
    return { site: read.record, onDate: "2026-11-25", packs: BUILT_IN_PACKS };
  };

  it("says the same as the main thread, after a rest too", async () => {
    const thread = judging(worker);
    const expected = judgeNow(job());
    expect(await thread.judge(job())).toEqual(expected);
    await thread.rest();
    expect(await thread.judge(job())).toEqual(expected);
    await thread.rest();
  });

  it("leaves the main thread free meanwhile", async () => {
    const thread = judging(worker);
    let turns = 0;
    const counting = setInterval(() => (turns += 1), 1);
    await thread.judge(job());
    clearInterval(counting);
    await thread.rest();
    // In the main thread there would be none before the answer.
    expect(turns).toBeGreaterThan(1);
  });

  it("passes on what a site cannot be judged for, and judges the next one", async () => {
    const thread = judging(worker);
    await expect(thread.judge({ ...job(), site: {} as Site })).rejects.toThrow("TypeError");
    expect(await thread.judge(job())).toEqual(judgeNow(job()));
    await thread.rest();
  });

  it("that dies is replaced by another one", async () => {
    const dying = join(folder, "dying.mjs");
    writeFileSync(
      dying,
      `import { parentPort } from "node:worker_threads"; parentPort.on("message", () => process.exit(3));`,
    );
    const thread = judging(pathToFileURL(dying));
    await expect(thread.judge(job())).rejects.toThrow("ended with 3");
    await expect(thread.judge(job())).rejects.toThrow("ended with 3");
    await thread.rest();
  });
});
