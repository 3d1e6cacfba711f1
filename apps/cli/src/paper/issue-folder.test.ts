import { existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { inFolder } from "./folder-unusable.ts";
import { openIssueFolder } from "./issue-folder.ts";
import { sha256 } from "./sha256.ts";

let place: string;
beforeEach(() => {
  place = mkdtempSync(join(tmpdir(), "earthbell-issues-"));
});
afterEach(() => {
  rmSync(place, { recursive: true, force: true });
});

const why = (text: string) => ({
  fault: { code: "FILE_FOLDER_UNUSABLE", message: `Papers cannot be kept there: ${text}.` },
});

describe("a folder of papers", () => {
  it("is made with those above it, once or more often at the same time", async () => {
    const folder = join(place, "a", "b");
    await Promise.all([openIssueFolder(folder, sha256), openIssueFolder(`${folder}/`, sha256)]);
    expect(existsSync(folder)).toBe(true);
    expect(await (await openIssueFolder(folder, sha256)).names()).toEqual([]);
  });

  it("says at once that the system lets none be made there", async () => {
    const refused = why("the system lets no folder be made there");
    await expect(openIssueFolder("/proc/papers", sha256)).rejects.toMatchObject(refused);
    await expect(openIssueFolder("/proc/papers/2026", sha256)).rejects.toMatchObject(refused);
  });

  it("says what stands in its way", async () => {
    writeFileSync(join(place, "file"), "");
    for (const folder of [join(place, "file"), join(place, "file", "papers")])
      await expect(openIssueFolder(folder, sha256)).rejects.toMatchObject(
        why("a file stands where a folder is needed"),
      );
  });

  it("says why a file of it could not be written", async () => {
    mkdirSync(join(place, "notice.html.part"));
    const { write } = await openIssueFolder(place, sha256);
    await expect(write("notice.html", "text")).rejects.toMatchObject(why("it is a folder"));
    expect(existsSync(join(place, "notice.html"))).toBe(false);
  });

  it.each([
    ["EACCES", "the system does not permit it"],
    ["EROFS", "the disk can only be read"],
    ["ENOSPC", "the disk is full"],
  ])("tells %s in words", async (code, text) => {
    const refuse = () => Promise.reject(Object.assign(new Error(code), { code, syscall: "open" }));
    await expect(inFolder("papers", refuse)).rejects.toMatchObject(why(text));
  });

  it("lets a bug through as it is", async () => {
    await expect(inFolder("papers", () => Promise.reject(new TypeError("bug")))).rejects.toThrow(TypeError);
  });
});
