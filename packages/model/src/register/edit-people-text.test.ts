import { readdirSync, readFileSync } from "node:fs";
import type { Site } from "@earthbell/engine";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { readSite } from "../site/read-site.ts";
import { siteText } from "../site/site-text.ts";
import { editPeopleText } from "./edit-people-text.ts";
import type { PersonChange } from "./person-change.ts";

const DEMO = new URL("../../../../demo/sites/", import.meta.url);
const demo = (name: string): string => readFileSync(new URL(name, DEMO), "utf8");

function read(text: string): Site {
  const result = readSite(text, "site");
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  return result.record;
}

/** A person of a file as another reader of YAML has it. */
function personIn(text: string, id: string): Record<string, unknown> {
  const { people } = parse(text) as { people: readonly Record<string, unknown>[] };
  return people.find((one) => one["id"] === id)!;
}

const EVENINGS = [{ fromMinute: 17 * 60, toMinute: 20 * 60 + 30 }];
const LEAVE = [{ from: "2026-12-20", to: "2027-01-04" }];
const CHANGE: Omit<PersonChange, "person"> = {
  reads: EVENINGS,
  checksPerDay: 3,
  away: LEAVE,
  until: "2027-06-30",
};
const AS_WRITTEN = { reads: "Mon 17:00-20:30", checksPerDay: 3, away: LEAVE, until: "2027-06-30" };

const everybody = readdirSync(DEMO)
  .filter((file) => file.endsWith(".yaml"))
  .flatMap((file) => read(demo(file)).people.map(({ id }) => [file, id] as const));

describe("people changed in the text of a site file", () => {
  test.each(everybody)(
    "%s: %s gets hours, looks, absences and an end, and every other line stays",
    (file, id) => {
      const text = demo(file);
      const { text: edited, rewritten } = editPeopleText(text, read(text), [{ person: id, ...CHANGE }]);
      expect(rewritten).toBe(false);
      expect(personIn(edited, id)).toEqual({ ...personIn(text, id), ...AS_WRITTEN });
      const lines = new Set(edited.split("\n"));
      const gone = text.split("\n").filter((line) => !lines.has(line));
      const own = Object.keys(AS_WRITTEN).join("|");
      expect(gone.every((line) => new RegExp(`\\bid: ${id}\\b|^ +(?:${own}):`, "u").test(line))).toBe(true);
    },
  );

  test.each(everybody)("%s: %s loses what is taken out again, down to the last letter", (file, id) => {
    const text = demo(file);
    const before = read(text);
    const nothing = { reads: null, checksPerDay: null, away: [], until: null };
    const bare = editPeopleText(text, before, [{ person: id, ...nothing }]);
    expect(bare.rewritten).toBe(false);
    const again = editPeopleText(bare.text, read(bare.text), [{ person: id, ...CHANGE }]);
    const back = editPeopleText(again.text, read(again.text), [{ person: id, ...nothing }]);
    expect(back).toEqual(bare);
  });

  const BLOCK = `people:
  - id: keeper            # lives next door
    address:
      email: old@example.org   # from the notice of 2024
    away:
      - from: 2026-07-01
        to: 2026-07-14    # lambing
      - {from: 2026-08-01, to: 2026-08-02}
    reads: 'Mon-Fri 07:00-17:00'   # asked in March
  # the second one
  - {id: second, address: {email: "two,three@example.org"}, checksPerDay: 4}   # reads at noon
`;
  const text = demo("creamery.yaml")
    .replace(/^people:\n(?: .*\n)+/mu, BLOCK)
    .replace("[owner, desk, weekend]", "[keeper, second]");

  test("a remark stays behind the value that is replaced, and a list over several lines becomes one", () => {
    const { text: edited, rewritten } = editPeopleText(text, read(text), [
      { person: "keeper", reads: [], away: LEAVE, address: { way: "email", to: "new@example.org" } },
      { person: "second", address: { way: "email", to: "four@example.org" }, away: LEAVE },
    ]);
    expect(rewritten).toBe(false);
    expect(edited).toContain("      email: new@example.org   # from the notice of 2024\n");
    expect(edited).toContain("    away: [{from: 2026-12-20, to: 2027-01-04}]\n");
    expect(edited).toContain("    reads: never   # asked in March\n");
    expect(edited).toContain("  # the second one\n");
    expect(edited).toContain(
      "{id: second, address: {email: four@example.org}, checksPerDay: 4, away: [{from: 2026-12-20, to: 2027-01-04}]}   # reads at noon\n",
    );
  });

  test("JSON stays JSON", () => {
    const json = JSON.stringify(parse(demo("clinic.yaml")), null, 2);
    const { text: edited, rewritten } = editPeopleText(json, read(json), [
      { person: "nurse", until: "2027-06-30", away: LEAVE, reads: null },
    ]);
    expect(rewritten).toBe(false);
    const { people } = JSON.parse(edited) as { people: readonly object[] };
    const { reads: _, ...others } = personIn(json, "nurse");
    expect(people[0]).toEqual({ ...others, away: LEAVE, until: "2027-06-30" });
  });

  test("a file that leaves no place for the change is written anew, and that is said", () => {
    const shared = text
      .replace(`{email: "two,three@example.org"}`, `&two {email: "two,three@example.org"}`)
      .replace(
        "  # the second one\n",
        "  - {id: third, address: &three {email: x@example.org}}\n  - {id: fourth, address: *three}\n",
      );
    const site = read(shared);
    const { text: edited, rewritten } = editPeopleText(shared, site, [
      { person: "fourth", address: { way: "email", to: "y@example.org" } },
    ]);
    expect(rewritten).toBe(true);
    expect(read(edited).people.map(({ address }) => address?.email)).toEqual([
      "old@example.org",
      "x@example.org",
      "y@example.org",
      "two,three@example.org",
    ]);
  });

  test("what another reader makes of the whole file written anew is the changed person too", () => {
    const site = read(demo("kelp-drier.yaml"));
    const plain = siteText(site);
    const { text: edited } = editPeopleText(plain, site, [{ person: "owner", ...CHANGE }]);
    expect(personIn(edited, "owner")).toMatchObject(AS_WRITTEN);
  });
});
