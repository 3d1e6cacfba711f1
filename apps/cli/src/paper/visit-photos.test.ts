import { mkdirSync, mkdtempSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { sha256 } from "./sha256.ts";
import { photosOfVisits } from "./visit-photos.ts";

/** A PNG of one point, from memory of the format; photos.check.ts reads larger ones. */
const PNG = Buffer.from(
  "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==",
  "base64",
);
const root = mkdtempSync(join(tmpdir(), "earthbell-photos-"));
const folder = join(root, "visit");
mkdirSync(join(folder, "photos"), { recursive: true });
writeFileSync(join(folder, "photos", "one.png"), PNG);
writeFileSync(join(folder, "words.jpg"), "no picture");
writeFileSync(join(root, "secret.png"), PNG);
symlinkSync(join(root, "secret.png"), join(folder, "link.png"));

const look = (...photos: readonly string[]) => {
  const lines = photos.map((photo) => `  - {${photo}, on: 2026-03-17}`);
  const bytes = [
    "format: earthbell.visit/1",
    "strings: [{id: S1, modules: 3}]",
    "readings: []",
    "photos:",
    ...lines,
    "",
  ].join("\n");
  const operand = join(folder, "v.yaml");
  return photosOfVisits([{ source: { bytes, file: "v.yaml", stem: "v" }, operand }]);
};

describe("photographs that a visit file names", () => {
  it("are found from its folder, by their own SHA-256", () => {
    const { photoFiles, faults } = look(`file: photos/one.png, sha256: ${sha256(PNG)}`);
    expect(faults).toEqual([]);
    expect(photoFiles).toMatchObject([{ of: "v.yaml", file: "photos/one.png", sha256: sha256(PNG) }]);
  });

  it("are told of all at once where they are missing, altered, no picture, or outside the folder", () => {
    const { faults } = look(
      "file: gone.jpg",
      `file: photos/one.png, sha256: ${"a".repeat(64)}`,
      "file: words.jpg",
      "file: ../secret.png",
      "file: link.png",
      "file: photos",
    );
    expect(faults.map(({ code, line, field }) => [code, line, field])).toEqual([
      ["VISIT_PHOTO_MISSING", 5, "photos[0].file"],
      ["VISIT_PHOTO_ALTERED", 6, "photos[1].sha256"],
      ["VISIT_PHOTO_NO_PICTURE", 7, "photos[2].file"],
      ["VISIT_PHOTO_OUTSIDE", 8, "photos[3].file"],
      ["VISIT_PHOTO_OUTSIDE", 9, "photos[4].file"],
      ["VISIT_PHOTO_MISSING", 10, "photos[5].file"],
    ]);
  });
});
