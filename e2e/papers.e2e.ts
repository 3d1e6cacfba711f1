import { generateKeyPairSync } from "node:crypto";
import { appendFileSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { run } from "./run-cli.ts";

const folder = mkdtempSync(join(tmpdir(), "earthbell-papers-"));
const at = (name: string): string => join(folder, name);
const site = "demo/sites/creamery.yaml";

function keys(name: string): { readonly secret: string; readonly open: string } {
  const { privateKey, publicKey } = generateKeyPairSync("ed25519");
  writeFileSync(at(`${name}.key`), privateKey.export({ format: "pem", type: "pkcs8" }));
  writeFileSync(at(`${name}.pem`), publicKey.export({ format: "pem", type: "spki" }));
  return { secret: at(`${name}.key`), open: at(`${name}.pem`) };
}

describe("earthbell paper", () => {
  it("makes the same bytes again, and a new revision that says what changed", async () => {
    const out = at("again");
    const make = (file: string, day: string) =>
      run(
        [
          "paper",
          "owner-notice",
          file,
          "--out",
          out,
          "--format",
          "pdf",
          "--format",
          "html",
          "--by",
          "J. Example",
        ],
        {
          environment: { TZ: day },
        },
      );
    expect((await make(site, "UTC")).status).toBe(0);
    const pdf = readFileSync(join(out, "owner-notice-creamery-1.pdf"));
    const again = await make(site, "Pacific/Auckland");
    expect(again.out).toContain("same paper as before");
    expect(Buffer.compare(pdf, readFileSync(join(out, "owner-notice-creamery-1.pdf")))).toBe(0);
    writeFileSync(at("moved.yaml"), readFileSync(site, "utf8").replace("by the dairy door", "in the cellar"));
    expect((await make(at("moved.yaml"), "UTC")).out).toContain("revision 2");
    const html = readFileSync(join(out, "owner-notice-creamery-2.html"), "utf8");
    expect(html).toContain(
      "inverters INV1 where description: by the dairy door, at eye height → in the cellar",
    );
  });

  it("makes every other kind, several sites in one call", async () => {
    const out = at("kinds");
    const sites = [site, "demo/sites/ferry-shed.yaml"];
    for (const kind of ["design-record", "commissioning-record", "visit-sheet"]) {
      const made = await run(["paper", kind, ...sites, "--out", out]);
      expect([made.status, made.err]).toEqual([0, ""]);
      expect(
        readFileSync(join(out, `${kind}-ferry-shed-1.pdf`))
          .subarray(0, 5)
          .toString(),
      ).toBe("%PDF-");
    }
    const others = [
      ["fault-report", "demo/visits/creamery-2026-08-14.yaml"],
      ["fleet-register", ...sites],
      ["setting-sheet", "demo/settings/gannet-s.yaml"],
    ];
    for (const words of others)
      expect((await run(["paper", ...words, "--out", out, "--format", "html"])).status).toBe(0);
  });

  it("states the results of a commissioning, and refuses those that contradict themselves", async () => {
    const out = at("results");
    const results = "demo/commissioning/creamery-2026-02-03.yaml";
    const words = ["paper", "commissioning-record", site, "--out", out, "--format", "html", "--results"];
    expect((await run([...words, results])).status).toBe(0);
    const html = readFileSync(join(out, "commissioning-record-creamery-1.html"), "utf8");
    expect(html).toContain("26 of 26 recorded results passed");
    expect(html).toContain("minus to earth: 18\u00a0MΩ");
    writeFileSync(at("low.yaml"), readFileSync(results, "utf8").replace("18 MΩ", "18 kΩ"));
    const { status, err } = await run([...words, at("low.yaml")]);
    expect(status).toBe(2);
    expect(err).toContain("COMMISSIONING_PASS_CONTRADICTED");
    expect(err).toMatch(/low\.yaml:\d+/u);
  });

  it("prints the photographs that a visit file names, and binds a setting sheet into a record", async () => {
    const out = at("photos");
    const png =
      "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==";
    writeFileSync(at("lid.png"), Buffer.from(png, "base64"));
    const text = readFileSync("demo/visits/creamery-2026-08-14.yaml", "utf8");
    writeFileSync(
      at("seen.yaml"),
      `${text}photos: [{file: lid.png, shows: the burnt lid, on: 2026-08-14}]\n`,
    );
    const made = await run(["paper", "fault-report", at("seen.yaml"), "--out", out, "--format", "html"]);
    expect([made.status, made.err]).toEqual([0, ""]);
    const html = readFileSync(join(out, "fault-report-seen-1.html"), "utf8");
    expect(html).toContain("data:image/jpeg;base64,");
    expect(html).toContain("1. lid.png. the burnt lid. Taken 2026-08-14.");
    const bound = ["--sheet", "demo/settings/gannet-s.yaml", "--results"];
    const results = "demo/commissioning/creamery-2026-02-03.yaml";
    const words = ["paper", "commissioning-record", site, "--out", out, "--format", "html", ...bound];
    expect((await run([...words, results])).status).toBe(0);
    const record = readFileSync(join(out, "commissioning-record-creamery-1.html"), "utf8");
    expect(record).toContain("3 of 4 steps of setting sheets ticked");
    // The digest in the demonstration is that of its sheet.
    expect(record).toContain("Written by Hennick service team");
  });

  it("makes many at once, tells of each in order, and numbers revisions of one site one after the other", async () => {
    const out = at("many");
    writeFileSync(
      at("cellar.yaml"),
      readFileSync(site, "utf8").replace("by the dairy door", "in the cellar"),
    );
    const files = [site, "demo/sites/ferry-shed.yaml", at("cellar.yaml"), "demo/sites/clinic.yaml"];
    const made = await run(["paper", "owner-notice", ...files, "--out", out]);
    expect([made.status, made.err]).toEqual([0, ""]);
    const told = [...made.out.matchAll(/owner-notice (\S+), revision (\d)/gu)].map(
      ([, of, no]) => `${of!} ${no!}`,
    );
    expect(told).toEqual(["creamery 1", "ferry-shed 1", "creamery 2", "clinic 1"]);
  });

  it.each([
    [["paper", "owner-notise", site, "--out", "x"], "owner-notice"],
    [["paper", "design-record", site, "--out", "x", "--language", "es"], "COMMAND_VALUE_UNKNOWN"],
    [["paper", "owner-notice", site], "--out"],
  ])("refuses %j and says what to do", async (words, said) => {
    const { status, err } = await run(words);
    expect(status).toBe(2);
    expect(err).toContain(said);
  });

  it.each([
    ["/proc/papers/2026", "the system lets no folder be made there"],
    ["/dev/full", "a file stands where a folder is needed"],
  ])("says that papers cannot be kept in %s, why, and what to do", async (out, why) => {
    const { status, err } = await run(["paper", "visit-sheet", site, "--out", out, "--format", "html"]);
    expect(status).toBe(2);
    expect(err.replace(/\s+/gu, " ")).toContain(why);
    expect(err).toContain("FILE_FOLDER_UNUSABLE");
    expect(err).toMatch(/do +Name a folder of your own/u);
  });

  it("says so of each paper where several are made at once", async () => {
    const { status, err } = await run([
      ...["paper", "owner-notice", site, "demo/sites/clinic.yaml", "--format", "html"],
      ...["--out", "/proc/papers"],
    ]);
    expect([status, err.match(/code +FILE_FOLDER_UNUSABLE/gu)?.length]).toEqual([2, 2]);
  });

  it("gives no revision beside a record that was altered", async () => {
    const out = at("record");
    const words = ["paper", "owner-notice", site, "--out", out, "--format", "html"];
    await run(words);
    appendFileSync(join(out, "owner-notice-creamery.issue.json"), "x");
    const { status, err } = await run(words);
    expect(status).toBe(2);
    expect(err).toContain("PAPER_RECORD_UNREADABLE");
  });
});

describe("earthbell verify", () => {
  it("tells valid, unknown key, altered and not signed apart", async () => {
    const out = at("signed");
    const [ours, theirs] = [keys("ours"), keys("theirs")];
    await run(["paper", "owner-notice", site, "--out", out, "--format", "html", "--sign", ours.secret]);
    const file = join(out, "owner-notice-creamery-1.html");
    const verdict = async (key: string) => {
      const { status, out: said } = await run(["verify", file, "--key", key, "--json"]);
      return [status, (JSON.parse(said) as { readonly verdict: string }).verdict];
    };
    expect(await verdict(ours.open)).toEqual([0, "valid"]);
    expect(await verdict(theirs.open)).toEqual([2, "unknown-key"]);
    appendFileSync(file, " ");
    expect(await verdict(ours.open)).toEqual([2, "altered"]);
    const unsigned = await run(["verify", site]);
    expect([unsigned.status, unsigned.err]).toEqual([2, expect.stringContaining("PAPER_SIGNATURE_MISSING")]);
  });
});
