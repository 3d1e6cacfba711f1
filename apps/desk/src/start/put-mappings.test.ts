import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { deskFolder } from "../folder/desk-folder.ts";
import { savedMapping } from "../listen/table/saved-mapping.ts";
import { openStore } from "../store/index.ts";
import { mappingsOf, saveMappings } from "./put-mappings.ts";

let path: string;
beforeEach(() => {
  path = mkdtempSync(join(tmpdir(), "mappings-"));
});
afterEach(() => {
  rmSync(path, { recursive: true });
});
const put = (name: string, text: string): void => {
  mkdirSync(join(path, "mappings"), { recursive: true });
  writeFileSync(join(path, "mappings", name), text);
};

describe("mappings in the desk's folder", () => {
  it("are none where there is no such folder", async () => {
    expect(await mappingsOf(deskFolder(path))).toEqual({ ok: true, mappings: [] });
  });

  it("are saved under the names of their files, and again when they have changed", async () => {
    const store = await openStore({ kind: "sqlite", file: ":memory:" });
    for (const unit of ["kΩ", "MΩ"]) {
      put("nightly.yaml", `format: earthbell.columns/1\nunit: ${unit}\n`);
      const read = await mappingsOf(deskFolder(path));
      if (!read.ok) throw new Error("refused");
      await saveMappings(store, read.mappings, 0);
      expect(await savedMapping(store.db, "nightly")).toMatchObject({ of: "insulation", columns: { unit } });
    }
    await store.close();
  });

  it("are refused with every fault of all of them", async () => {
    put("one.yaml", "format: earthbell.columns/1\nunit: furlong\n");
    put("two.yaml", "format: earthbell.events/1\ninstant: when\nevent: code\nfaults: []\n");
    const read = await mappingsOf(deskFolder(path));
    if (read.ok) throw new Error("read");
    expect(read.faults.map(({ file, field }) => [file.slice(-8), field])).toEqual([
      ["one.yaml", "unit"],
      ["two.yaml", "faults"],
    ]);
  });
});
