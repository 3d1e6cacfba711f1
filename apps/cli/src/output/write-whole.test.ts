import { lstatSync, mkdirSync, mkdtempSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { writeWhole } from "./write-whole.ts";

const folder = mkdtempSync(join(tmpdir(), "earthbell-write-"));

describe("a file that is written whole", () => {
  it("holds the text", async () => {
    const file = join(folder, "a.svg");
    expect(await writeWhole(file, "text")).toBeNull();
    expect(readFileSync(file, "utf8")).toBe("text");
  });

  it("leaves the file that is there as it is where the new one cannot be written", async () => {
    const file = join(folder, "kept.svg");
    writeFileSync(file, "old");
    mkdirSync(`${file}.part`);
    expect(await writeWhole(file, "new")).not.toBeNull();
    expect(readFileSync(file, "utf8")).toBe("old");
  });

  it("writes through a link, which stays", async () => {
    const [file, link] = [join(folder, "far.svg"), join(folder, "near.svg")];
    writeFileSync(file, "old");
    symlinkSync(file, link);
    expect(await writeWhole(link, "new")).toBeNull();
    expect(readFileSync(file, "utf8")).toBe("new");
    expect(lstatSync(link).isSymbolicLink()).toBe(true);
  });

  it.each([
    [join(folder, "none", "a.svg"), "its folder is not there"],
    [folder, "it is a folder"],
    [join(folder, "x".repeat(300)), "its name is too long"],
    ["/dev/full", "the disk is full"],
    ["/proc/a.svg", "its folder is not there"],
  ])("says in words why %s could not be written, and what to do", async (file, why) => {
    const fault = await writeWhole(file, "text");
    expect(fault?.code).toBe("FILE_PATH_NOT_WRITABLE");
    expect(fault?.message).toBe(`${JSON.stringify(file)} cannot be written: ${why}.`);
    expect(fault?.suggestions.join("")).toMatch(/^(?:Make|Name|Choose) .*\.$/u);
  });
});
