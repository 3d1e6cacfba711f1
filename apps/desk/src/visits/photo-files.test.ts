import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { photoFolder } from "./photo-files.ts";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "earthbell-photos-"));
});
afterEach(() => {
  rmSync(folder, { recursive: true });
});

describe("the folder of photos", () => {
  it("has the same picture once, under its SHA-256", async () => {
    const files = photoFolder(join(folder, "photos"));
    // FIPS 180-4 example: the digest of "abc".
    const digest = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    expect(await files.keep(Buffer.from("abc"))).toBe(digest);
    expect(await files.keep(Buffer.from("abc"))).toBe(digest);
    expect(readdirSync(join(folder, "photos"))).toEqual([digest]);
    expect((await files.read(digest))?.toString()).toBe("abc");
  });

  it("gives nothing in the place of a picture that was changed or is missing", async () => {
    const files = photoFolder(folder);
    const digest = await files.keep(Buffer.from("abc"));
    writeFileSync(join(folder, digest), "abd");
    expect(await files.read(digest)).toBeNull();
    expect(await files.read("0".repeat(64))).toBeNull();
  });
});
