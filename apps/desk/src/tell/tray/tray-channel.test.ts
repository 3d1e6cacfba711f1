import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Envelope } from "../channel.ts";
import { trayChannel } from "./tray-channel.ts";

const envelope: Envelope = {
  key: '["C1","P1","ann","first",1]',
  channel: "email",
  address: "ann@example.org",
  person: "ann",
  site: "../../tarn",
  matter: "C1",
  kind: "first",
  sequence: 1,
  subject: "Earth fault at Tarn",
  text: "Do not touch.",
  writtenAt: Date.UTC(2026, 5, 1, 4, 30),
};

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "earthbell-tray-"));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe("the tray", () => {
  it("keeps each message as a file, and a duplicate as the same one", async () => {
    const tray = trayChannel({ folder: join(folder, "tray"), kind: "email" });
    const never = new AbortController().signal;
    expect(await tray.send(envelope, never)).toMatchObject({ outcome: "accepted" });
    await tray.send(envelope, never);
    const [file, ...more] = readdirSync(join(folder, "tray"));
    expect(more).toEqual([]);
    expect(readFileSync(join(folder, "tray", file!), "utf8")).toBe(
      "Way: email\nTo: ann <ann@example.org>\nSubject: Earth fault at Tarn\n\nDo not touch.\n",
    );
  });

  it("asks to be tried again where it cannot write", async () => {
    writeFileSync(join(folder, "file"), "");
    const tray = trayChannel({ folder: join(folder, "file"), kind: "email" });
    expect(await tray.send(envelope, new AbortController().signal)).toMatchObject({ outcome: "later" });
  });
});
