import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { deskFolder, filesIn, makeFolder, readSettings } from "./desk-folder.ts";
import { lockFolder } from "./folder-lock.ts";
import { secretsOf } from "./secrets.ts";

let path: string;
beforeEach(() => {
  path = mkdtempSync(join(tmpdir(), "earthbell-folder-"));
});
afterEach(() => {
  rmSync(path, { recursive: true, force: true });
});

describe("the folder of a desk", () => {
  it("is made where it is missing", async () => {
    const folder = deskFolder(join(path, "new", "desk"));
    await makeFolder(folder);
    await expect(readSettings(folder)).rejects.toMatchObject({ code: "DESK_SETTINGS_MISSING" });
  });

  it("cannot lie inside a file", async () => {
    writeFileSync(join(path, "file"), "");
    await expect(makeFolder(deskFolder(join(path, "file", "desk")))).rejects.toMatchObject({
      code: "DESK_FOLDER_UNUSABLE",
    });
  });

  it("is refused at once where the system lets none be made", async () => {
    for (const place of ["/proc/desk", "/proc/desk/one"])
      await expect(makeFolder(deskFolder(place))).rejects.toMatchObject({ code: "DESK_FOLDER_UNUSABLE" });
  });

  it("gives the settings, or all their faults", async () => {
    const folder = deskFolder(path);
    writeFileSync(folder.settingsFile, "format: earthbell.desk/1\ndesk: {name: Skerry}\n");
    expect(await readSettings(folder)).toEqual({ ok: true, settings: { desk: { name: "Skerry" } } });
    writeFileSync(folder.settingsFile, "format: earthbell.desk/1\ndesk: {nam: Skerry}\n");
    const read = await readSettings(folder);
    expect(read.ok ? [] : read.faults.map(({ code }) => code)).toEqual([
      "INPUT_FIELD_MISSING",
      "INPUT_FIELD_UNKNOWN",
    ]);
  });

  it("lists site files by name, and none where there is no folder", async () => {
    for (const name of ["b.yaml", "a.json", "notes.txt"]) writeFileSync(join(path, name), "");
    expect(await filesIn(path, [".yaml", ".json"])).toEqual([join(path, "a.json"), join(path, "b.yaml")]);
    expect(await filesIn(join(path, "none"), [".yaml"])).toEqual([]);
  });
});

describe("the lock of a folder", () => {
  it("keeps a second desk out while the first one runs", async () => {
    const file = deskFolder(path).lockFile;
    const lock = await lockFolder(file, process.pid);
    // The parent of this process is alive and is somebody else.
    writeFileSync(file, String(process.ppid));
    await expect(lockFolder(file, process.pid)).rejects.toMatchObject({ code: "DESK_ALREADY_RUNNING" });
    await lock.release();
    await (await lockFolder(file, process.pid)).release();
  });

  it.each(["", "rubbish", "4194999"])("sees through a mark that says %j", async (text) => {
    const file = deskFolder(path).lockFile;
    writeFileSync(file, text);
    await lockFolder(file, process.pid);
    expect(readFileSync(file, "utf8")).toBe(String(process.pid));
  });
});

describe("a secret", () => {
  it("comes from a variable or from a file, without the line end", () => {
    writeFileSync(join(path, "key"), "s3cret\n");
    const secrets = secretsOf(path, { MAIL: "word" });
    expect(secrets({ env: "MAIL" })).toBe("word");
    expect(secrets({ file: "key" })).toBe("s3cret");
  });

  it.each([{ env: "UNSET" }, { env: "EMPTY" }, { file: "missing" }, { file: "empty" }])(
    "that is not there is named: %j",
    (source) => {
      writeFileSync(join(path, "empty"), " \n");
      expect(() => secretsOf(path, { EMPTY: "" })(source)).toThrow(/UNSET|EMPTY|missing|empty/u);
    },
  );
});
