import { execFileSync } from "node:child_process";
import { generateKeyPairSync } from "node:crypto";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Locator, Page } from "@playwright/test";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readVisit } from "@earthbell/model";
import { type MailServer, startMailServer } from "../checks/mail-peer/mail-server.ts";
import { expectReadable, type FolderDesk, startFolderDesk } from "./folder-desk.ts";
import { run } from "./run-cli.ts";

const MINUTE_MS = 60_000;
/** What others did is there in the time that a busy machine needs. */
const SOON = { timeout: 60_000 };
/** One string as long as that of the visit whose readings are handed over. */
const CREAMERY = readFileSync("demo/sites/creamery.yaml", "utf8").replace(
  /(?: {6}- \{id: S\d, modules: 13\}\n)+/u,
  "      - {id: S2, modules: 18}\n",
);
const VISIT = "demo/visits/ferry-shed-2026-09-07-before.yaml";

let mail: MailServer;
let desk: FolderDesk;
let page: Page;
let taken: string;
let caseId: string;
/** What was downloaded first, and the public key. */
let first: string;
let key: string;

beforeAll(async () => {
  taken = mkdtempSync(join(tmpdir(), "earthbell-taken-"));
  mail = await startMailServer();
  const email = `{host: 127.0.0.1, port: ${mail.port}, security: none, from: watch@example.org}`;
  desk = await startFolderDesk(`format: earthbell.desk/1\ndesk: {name: Skerry}\nemail: ${email}\n`, {
    creamery: CREAMERY,
  });
  page = desk.page;
});
afterAll(async () => {
  await desk.stop();
  await mail.stop();
  rmSync(taken, { recursive: true });
});

/** Asks the desk as the person does who is signed in. */
async function ask(path: string, method: "POST" | "PUT" | "GET", data?: object | Buffer): Promise<unknown> {
  const type = data instanceof Buffer ? { "content-type": "image/png" } : {};
  const reply = await page.request.fetch(desk.url + path, {
    method,
    headers: { "x-earthbell-request": "1", ...type },
    ...(data === undefined ? {} : { data }),
  });
  if (!reply.ok()) throw new Error(`${path}: ${await reply.text()}`);
  return (await reply.json()) as unknown;
}

/** Tells the desk, as a device of the site does, whether the fault is there; a device may have waited for a connection. */
async function fault(value: boolean, minutesAgo: number): Promise<void> {
  const { token } = (await ask("/api/sites/creamery/tokens", "POST", { label: "test" })) as { token: string };
  const reading = {
    array: "A1",
    device: "INV1",
    at: Date.now() - minutesAgo * MINUTE_MS,
    kind: "earth-fault-bit",
    value,
    unit: "bit",
  };
  const reply = await fetch(`${desk.url}/api/push/readings`, {
    method: "POST",
    headers: { authorization: `Bearer ${token}`, "content-type": "application/json" },
    body: JSON.stringify({ readings: [reading] }),
  });
  expect(reply.status).toBe(200);
}

/** Hands over a visit to the case: readings of a few minutes ago, and two photographs. */
async function handOverVisit(): Promise<void> {
  const read = readVisit(readFileSync(VISIT), VISIT);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  const { readings, ...setUp } = read.record;
  const at = Date.now() - 2 * MINUTE_MS;
  await ask("/api/visits/visit-1/entries", "POST", {
    beginning: {
      ...{ title: "Roof, string S2", site: "creamery", case: caseId, begunAt: at },
      setUp: { ...setUp, readings: [] },
    },
    entries: readings.map((reading, i) => ({
      ...{ writer: "phone-a", id: `entry-${i}`, n: i + 1, at, by: null },
      ...{ kind: "reading", reading, seen: [], recorded: [] },
    })),
  });
  for (const [i, height] of [200, 300].entries()) {
    const picture = await page.screenshot({ clip: { x: 0, y: 0, width: 400, height } });
    const named = `name=connector-${i + 1}.png&takenAt=${at}`;
    await ask(`/api/visits/visit-1/photos/photo-${i + 1}?${named}`, "PUT", picture);
  }
}

/** The minute that is, as a field of the browser's own zone takes it. */
async function thisMinute(): Promise<string> {
  return await page.evaluate(() => {
    const now = new Date();
    return new Date(now.getTime() - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 16);
  });
}

async function download(link: Locator): Promise<string> {
  const [coming] = await Promise.all([page.waitForEvent("download"), link.click()]);
  const file = join(taken, coming.suggestedFilename());
  await coming.saveAs(file);
  return file;
}

/** What was just issued, beside its form. */
const made = (name: string): Locator => page.getByRole("link", { name, exact: true });
const textOf = (pdf: string): string =>
  execFileSync("pdftotext", ["-raw", pdf, "-"], { encoding: "utf8" }).replace(/\s+/gu, " ");

async function issue(said: string): Promise<void> {
  await page.goto(`${desk.url}/cases/${caseId}`);
  await page.getByText("Look at the report, and issue it").click();
  await page.getByRole("button", { name: "Issue it" }).click();
  await page.getByText(said).first().waitFor();
}

describe("a case at the desk", () => {
  it("is closed on its evidence: answered, found, mended, measured, told", async () => {
    await fault(true, 10);
    const told = (): readonly string[] => [...new Set(mail.taken.flatMap(({ to }) => to))].sort();
    await expect
      .poll(told, SOON)
      .toEqual(["creamery@example.net", "faults@example.org", "weekend@example.org"]);
    [{ id: caseId }] = (await ask("/api/cases?site=creamery", "GET")) as [{ id: string }];
    await page.goto(`${desk.url}/cases/${caseId}`);
    await page.getByRole("button", { name: "Acknowledge as Ann Lee" }).click();
    await page.getByText("Every sign of this case has been answered.").waitFor();
    await handOverVisit();
    await fault(false, 0);
    await page.getByLabel("What was found to be the cause").fill("salt water in a connector of S2");
    await page.getByLabel("Repaired").fill(await thisMinute());
    await page.getByRole("button", { name: "Sign as Ann Lee" }).click();
    await page.getByText(/^Signed by Ann Lee/u).waitFor();
    await page.getByText(/^Required:/u).waitFor();
    await page.getByLabel("Measured").fill("20 MΩ");
    await page.getByRole("button", { name: "Put the measurement on record" }).click();
    await page.getByLabel("Paper handed over").fill("owner-notice creamery, revision 1");
    await page.getByRole("button", { name: "The owner has been told by Ann Lee" }).click();
    await expect.poll(async () => await page.getByText("Missing", { exact: true }).count(), SOON).toBe(0);
    await page.getByRole("button", { name: "Close the case as Ann Lee" }).click();
    await page.getByText(/, closed by Ann Lee$/u).waitFor();
    // Whoever was told of the fault is told that it is gone, which is on record of the case as well.
    await expect.poll(async () => await page.getByText(/: cleared message$/u).count(), SOON).toBe(3);
  });

  it("is told by a report with the figures, every photograph and everybody who was told", async () => {
    await issue(`fault-report creamery/${caseId}, revision 1, is issued`);
    first = await download(made("PDF"));
    await download(made("Signature of the PDF"));
    await expectReadable(page);
    const text = textOf(first);
    // By the rule of proportion: 246.7 V of 246.7 V + 385.8 V lie below the place, of 18 modules.
    const place = (18 * 246.7) / (246.7 + 385.8);
    expect(text).toContain(`Proportional rule on S2 ${place.toFixed(2)} modules`);
    const between = `connectors between modules ${Math.round(place)} and ${Math.round(place) + 1}`;
    for (const said of [between, "638.2 V", "246.7 V", "385.8 V", "salt water in a connector of S2"])
      expect(text).toContain(said);
    expect(text).toMatch(/Insulation after the repair 20 MΩ/u);
    for (const person of ["owner", "desk", "weekend"]) expect(text).toContain(`${person} email path P1`);
    expect(text).toContain("2. connector-2.png. Added by Ann Lee");
    const pictures = execFileSync("pdfimages", ["-list", first], { encoding: "utf8" });
    expect(pictures.match(/ image /gu)).toHaveLength(2);
  });
});

describe("the signature of a report", () => {
  it("says valid of the file, altered of one with a byte flipped, and unknown key to whoever has another", async () => {
    await page.goto(`${desk.url}/papers`);
    key = await download(page.getByRole("link", { name: /^Public key/u }));
    const verdict = async (file: string, pem: string) => await run(["verify", file, "--key", pem]);
    expect(await verdict(first, key)).toMatchObject({
      status: 0,
      out: expect.stringContaining("valid") as string,
    });
    const bytes = readFileSync(first);
    const altered = join(taken, "altered.pdf");
    bytes[Math.floor(bytes.length / 2)]! ^= 1;
    writeFileSync(altered, bytes);
    writeFileSync(`${altered}.sig`, readFileSync(`${first}.sig`));
    expect(await verdict(altered, key)).toMatchObject({
      status: 2,
      out: expect.stringContaining("altered") as string,
    });
    const other = join(taken, "other.pem");
    writeFileSync(other, generateKeyPairSync("ed25519").publicKey.export({ format: "pem", type: "spki" }));
    expect(await verdict(first, other)).toMatchObject({
      status: 2,
      out: expect.stringContaining("unknown key") as string,
    });
  });
});

describe("a report that is issued again", () => {
  it("is the same to the byte from the same records", async () => {
    const before = readFileSync(first);
    await issue(`fault-report creamery/${caseId}, revision 1, is as it was`);
    expect(readFileSync(await download(made("PDF"))).equals(before)).toBe(true);
  });

  it("has a new revision that says what changed, and the one before it is known as replaced", async () => {
    await page.goto(`${desk.url}/cases/${caseId}`);
    await page.getByLabel("Remark for everybody who works on this case").fill("All pairs were changed.");
    await page.getByRole("button", { name: "Add the remark" }).click();
    await page.getByText("The remark is on record.").first().waitFor();
    await issue(`fault-report creamery/${caseId}, revision 2, is issued`);
    const second = textOf(await download(made("PDF")));
    expect(second).toContain("All pairs were changed.");
    await page.goto(`${desk.url}/papers/creamery`);
    await page.getByText("One thing changed").click();
    await page.getByText(/^case timeline \d+: — → .*All pairs were changed\./u).waitFor();
    await page.goto(`${desk.url}/papers`);
    await page.getByLabel(/^A file to check/u).setInputFiles([first, `${first}.sig`]);
    await page
      .getByText(/revision 1, issued on .* Revision 2 has replaced it\. Its signature is valid/u)
      .first()
      .waitFor();
    expect(desk.complaints).toEqual([]);
  });
});
