import { createPrivateKey, createPublicKey } from "node:crypto";
import { mkdtempSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeEach, describe, expect, it } from "vitest";
import { signingKeys } from "./signing-keys.ts";

let folder: string;

beforeEach(() => {
  folder = join(mkdtempSync(join(tmpdir(), "earthbell-signing-")), "signing");
});

describe("the keys by which papers are signed", () => {
  it("are made at first use, the private one for nobody else's eyes", async () => {
    const pem = await signingKeys(folder).current();
    expect(createPrivateKey(pem).asymmetricKeyType).toBe("ed25519");
    expect(statSync(join(folder, "current.key")).mode & 0o777).toBe(0o600);
    expect(statSync(folder).mode & 0o077).toBe(0);
  });

  it("are the same at every use, also when several papers want them at once", async () => {
    const asked = Array.from({ length: 8 }, () => signingKeys(folder).current());
    expect(new Set(await Promise.all(asked)).size).toBe(1);
    expect((await signingKeys(folder).known()).filter(({ current }) => current)).toHaveLength(1);
  });

  it("name their public half", async () => {
    const keys = signingKeys(folder);
    const own = createPublicKey(await keys.current()).export({ format: "pem", type: "spki" });
    expect((await keys.known())[0]).toMatchObject({ pem: own, current: true });
  });

  it("stay known after a new one took their place, which signs from then on", async () => {
    const keys = signingKeys(folder);
    const before = await keys.current();
    const [old] = await keys.known();
    const fresh = await keys.replace();
    expect(await keys.current()).not.toBe(before);
    expect((await keys.known()).map(({ id, current }) => [id, current])).toEqual([
      [fresh.id, true],
      [old!.id, false],
    ]);
    expect(statSync(join(folder, "current.key")).mode & 0o777).toBe(0o600);
  });

  it("may be ones that somebody brought", async () => {
    const other = signingKeys(`${folder}-other`);
    const pem = await other.current();
    await signingKeys(folder).current();
    writeFileSync(join(folder, "current.key"), pem);
    const [now, before] = await signingKeys(folder).known();
    expect([now!.id, now!.current, before!.current]).toEqual([(await other.known())[0]!.id, true, false]);
    expect(readFileSync(join(folder, "public", `${now!.id}.pem`), "utf8")).toContain("PUBLIC KEY");
  });
});
