import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { readVisit } from "@earthbell/model";
import { type Extra, runJob } from "@earthbell/papers";
import { beforeAll, describe, expect, it } from "vitest";
import { jobTools } from "../../apps/cli/src/paper/job-tools.ts";
import { openCodecs } from "../../apps/cli/src/paper/picture-codecs.ts";
import { sha256 } from "../../apps/cli/src/paper/sha256.ts";

const folder = mkdtempSync(join(tmpdir(), "earthbell-photos-"));
const photoFolder = join(folder, "photos");
mkdirSync(photoFolder);
const codecs = await openCodecs();
const tools = jobTools();

const DEMO = "demo/visits/ferry-shed-2026-09-07-before.yaml";
const setUp = readVisit(readFileSync(DEMO), DEMO);
if (!setUp.ok) throw new Error("the demonstration's visit is sound");
const { record: visit } = setUp;

/** A photo whose colours run over it, with a dark frame in it by which one sees whether it stands upright. */
async function photo(width: number, height: number, seed: number): Promise<Buffer> {
  const data = new Uint8ClampedArray(width * height * 4);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const at = (y * width + x) * 4;
      const frame = x < width / 3 && y < height / 4;
      data[at] = frame ? 30 : 90 + (120 * x) / width;
      data[at + 1] = frame ? 30 : 110 + (100 * y) / height;
      data[at + 2] = frame ? 30 : (seed * 40 + (x ^ y)) % 256;
      data[at + 3] = 255;
    }
  return Buffer.from(await codecs.jpeg({ data, width, height }));
}

/** The same JPEG with an EXIF segment that says how it is to be turned. */
function turned(jpeg: Buffer, orientation: number): Buffer {
  const exif = "ffe10022457869660000" + "4d4d002a00000008" + "0001" + "0112000300000001";
  const segment = Buffer.from(`${exif}000${orientation}0000` + "00000000", "hex");
  return Buffer.concat([jpeg.subarray(0, 2), segment, jpeg.subarray(2)]);
}

type Photos = readonly { readonly name: string; readonly bytes: Buffer | null }[];

function keep(photos: Photos): Extra {
  const listed = photos.map(({ name, bytes }, at) => {
    const digest = sha256(bytes ?? `lost ${at}`);
    if (bytes !== null) writeFileSync(join(photoFolder, digest), bytes);
    const of = { name, takenAt: Date.UTC(2026, 8, 7, 1, at), mediaType: "image/jpeg", bytes: 1 };
    return { ...of, id: `p${String(at).padStart(3, "0")}`, digest, by: "Ann Lee" };
  });
  const site = { id: "ferry-shed", name: "Ferry shed", zone: "Australia/Melbourne" };
  const handed = {
    ...{ id: "v-1", by: "Ann Lee", title: "Roof, string S2", site: site.id, case: null },
    ...{ begunAt: Date.UTC(2026, 8, 7, 1), setUp: { ...visit, readings: [] }, entries: [], photos: listed },
  };
  const of = { name: "ferry-shed/v-1", site, case: null, signs: [], told: [], visits: [handed] };
  return { records: of };
}

async function report(name: string, photos: Photos) {
  const out = join(folder, name);
  const result = await runJob(
    {
      ...{ what: "issue", kind: "fault-report", sources: [], extra: keep(photos), language: "en" },
      ...{ formats: ["pdf", "html"], folder: out, photoFolder, today: "2026-11-25", version: "check" },
      signKey: null,
    },
    tools,
  );
  if (!result.ok || result.what !== "issue") throw new Error(JSON.stringify(result));
  const [pdf, html] = result.made.issued.map((file) => join(out, file.name));
  return { pdf: pdf!, html: readFileSync(html!, "utf8") };
}

/** Pictures of a PDF as poppler finds them: width and height in points. */
function imagesIn(pdf: string): readonly (readonly [number, number])[] {
  const lines = execFileSync("pdfimages", ["-list", pdf], { encoding: "utf8" }).trim().split("\n").slice(2);
  return lines.map((line) => {
    const [, , kind, width, height, , , , packed] = line.trim().split(/\s+/u);
    expect([kind, packed]).toEqual(["image", "jpeg"]);
    return [Number(width), Number(height)] as const;
  });
}

const textOf = (pdf: string): string =>
  execFileSync("pdftotext", ["-raw", pdf, "-"], { encoding: "utf8" }).replace(/\s+/gu, " ");

let lying: Buffer;
let upright: Buffer;
beforeAll(async () => {
  lying = await photo(1600, 1200, 1);
  upright = await photo(900, 1600, 2);
});

describe("photographs in the report of a fault", () => {
  it("are in the PDF, each once, scaled to a thousand points at most, and turned as EXIF says", async () => {
    const { pdf } = await report("three", [
      { name: "lying.jpg", bytes: lying },
      { name: "upright.jpg", bytes: upright },
      { name: "turned.jpg", bytes: turned(lying, 6) },
    ]);
    // 1600 × 1200, 900 × 1600, and the first turned by a quarter (EXIF 2.32, tag 0x0112, value 6).
    expect(imagesIn(pdf)).toEqual([
      [1000, 750],
      [563, 1000],
      [750, 1000],
    ]);
    expect(execFileSync("qpdf", ["--check", pdf], { encoding: "utf8" })).toContain("No syntax");
    expect(execFileSync("pdfinfo", [pdf], { encoding: "utf8" })).toMatch(/Tagged:\s+yes/u);
  });

  it("say in the tags of the PDF what is known of each, for somebody who cannot see it", async () => {
    const { pdf } = await report("one", [{ name: "clip.jpg", bytes: lying }]);
    expect(imagesIn(pdf)).toEqual([[1000, 750]]);
    const structure = execFileSync("qpdf", ["--json", "--json-key=qpdf", pdf], {
      encoding: "utf8",
      maxBuffer: 2 ** 28,
    });
    expect(structure).toContain(
      "Photograph 1 of Roof, string S2: clip.jpg, added by Ann Lee, 2026-09-07 11:00 +10:00",
    );
    expect(textOf(pdf)).toContain(sha256(lying).slice(0, 8));
  });

  it("are all printed, four beside each other and small where there are many", async () => {
    const many = await Promise.all(Array.from({ length: 30 }, (_, seed) => photo(640, 480, seed)));
    const { pdf, html } = await report(
      "many",
      many.map((bytes, at) => ({ name: `photo ${at}.jpg`, bytes })),
    );
    expect(imagesIn(pdf)).toEqual(many.map(() => [500, 375]));
    expect(html.match(/src="data:image\/jpeg;base64,/gu)).toHaveLength(30);
  });

  it("are printed from PNG and WebP as well, whatever their names say", async () => {
    // The smallest picture of each kind, as they are passed around to try out readers; 1 × 1.
    const png =
      "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mP8z8BQDwAEhQGAhKmMIQAAAABJRU5ErkJggg==";
    const webp = "UklGRiIAAABXRUJQVlA4IBYAAAAwAQCdASoBAAEADsD+JaQAA3AAAAAA";
    const { pdf } = await report("kinds", [
      { name: "png.jpg", bytes: Buffer.from(png, "base64") },
      { name: "webp.jpg", bytes: Buffer.from(webp, "base64") },
    ]);
    expect(imagesIn(pdf)).toEqual([
      [1, 1],
      [1, 1],
    ]);
  });

  it("become a line where they are lost, damaged or of a kind that is not printed", async () => {
    const heic = Buffer.from("00000018667479706865696300000000", "hex");
    const { pdf, html } = await report("lost", [
      { name: "good.jpg", bytes: upright },
      { name: "lost.jpg", bytes: null },
      { name: "cut.jpg", bytes: lying.subarray(0, lying.length / 2) },
      { name: "other.heic", bytes: heic },
    ]);
    expect(imagesIn(pdf)).toEqual([[563, 1000]]);
    const text = textOf(pdf);
    for (const said of [
      "Photograph 2, lost.jpg, is not shown: the picture is missing",
      "Photograph 3, cut.jpg, is not shown: the picture is damaged",
      "Photograph 4, other.heic, is not shown: pictures of the kind HEIC are kept, not printed",
    ]) {
      expect(text).toContain(said);
      expect(html).toContain(said);
    }
  });

  it("give the same bytes from the same records", async () => {
    const photos = [
      { name: "lying.jpg", bytes: lying },
      { name: "turned.jpg", bytes: turned(lying, 8) },
    ];
    const [first, second] = [await report("first", photos), await report("second", photos)];
    expect(readFileSync(second.pdf).equals(readFileSync(first.pdf))).toBe(true);
    expect(second.html).toBe(first.html);
  });

  it("make another revision when one of them is another picture", async () => {
    await report("revised", [{ name: "lying.jpg", bytes: lying }]);
    const { pdf } = await report("revised", [{ name: "lying.jpg", bytes: upright }]);
    expect(textOf(pdf)).toMatch(/Revision:? 2/iu);
  });
});
