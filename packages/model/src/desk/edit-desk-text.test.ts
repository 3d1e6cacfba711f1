import { describe, expect, it } from "vitest";
import { DESK_YAML } from "../fixtures/desk-file.ts";
import { deskSections, editDeskText } from "./edit-desk-text.ts";
import { readDesk } from "./read-desk.ts";

const REMARKED = `# the co-operative's desk
format: earthbell.desk/1
desk: {name: Skerry}   # as on the letterhead
email:
  host: mail.example.net   # moved in March
  port: 587
  # asked of the provider
  security: starttls
  from: watch@example.org

# what we agreed on 3 May
limits: {floodAlarms: 20}
`;
const fieldsOf = (text: string, section: "email" | "limits") =>
  deskSections(text)[section] as Readonly<Record<string, unknown>>;

describe("a section of a desk's settings", () => {
  it("is changed in its own line, and every remark stays", () => {
    const fields = { ...fieldsOf(REMARKED, "email"), host: "relay.example.net", timeout: "30 s" };
    expect(editDeskText(REMARKED, "email", { kind: "fields", fields })).toBe(
      REMARKED.replace("host: mail.example.net ", "host: relay.example.net ").replace(
        "from: watch@example.org\n",
        "from: watch@example.org\n  timeout: 30 s\n",
      ),
    );
  });

  it("loses a field that is no longer wanted", () => {
    const { port: _, ...fields } = fieldsOf(REMARKED, "email");
    expect(editDeskText(REMARKED, "email", { kind: "fields", fields })).toBe(
      REMARKED.replace("  port: 587\n", ""),
    );
  });

  it("that stands in one line is written anew, and what is around it stays", () => {
    const wanted = { kind: "fields", fields: { floodAlarms: 20, repeatEvery: "2 h" } } as const;
    expect(editDeskText(REMARKED, "limits", wanted)).toBe(
      REMARKED.replace("limits: {floodAlarms: 20}\n", "limits:\n  floodAlarms: 20\n  repeatEvery: 2 h\n"),
    );
  });

  it("is added at the end, given as text, and taken out again", () => {
    const text = "# the quay first\n- {id: quay, broker: hall, topic: skerry/quay}";
    const added = editDeskText(REMARKED, "beacons", { kind: "text", text });
    expect(added).toBe(
      `${REMARKED}beacons:\n  # the quay first\n  - {id: quay, broker: hall, topic: skerry/quay}\n`,
    );
    expect(editDeskText(added!, "beacons", { kind: "absent" })).toBe(REMARKED);
  });

  it("of a file with every section changes that section alone", () => {
    const fields = { everyMonths: 3 };
    const edited = editDeskText(DESK_YAML, "drills", { kind: "fields", fields })!;
    expect(edited.split("\n").filter((line) => !DESK_YAML.split("\n").includes(line))).toEqual([
      "drills:",
      "  everyMonths: 3",
    ]);
    expect(readDesk(edited, "desk.yaml")).toMatchObject({ ok: true, record: { drills: { everyMonths: 3 } } });
  });

  it.each([
    ["a text that would begin another section", "{}\nemail: {}"],
    ["a text that is no YAML", "{unclosed"],
  ])("is not changed by %s", (_, text) => {
    expect(editDeskText(REMARKED, "beacons", { kind: "text", text })).toBeNull();
  });

  it("of a file in JSON, or one that cannot be read, is not changed", () => {
    const json = '{"format": "earthbell.desk/1", "desk": {"name": "Skerry"}}';
    expect(editDeskText(json, "drills", { kind: "fields", fields: { everyMonths: 3 } })).toBeNull();
    expect(editDeskText("a: [", "drills", { kind: "absent" })).toBeNull();
  });
});
