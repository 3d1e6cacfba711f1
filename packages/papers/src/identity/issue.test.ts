import { describe, expect, it } from "vitest";
import type { Json } from "./canonical.ts";
import { canonicalJson } from "./canonical.ts";
import { compareInputs } from "./compare-inputs.ts";
import { type Issue, issueOf, type IssueRequest } from "./issue.ts";
import { recordAfter } from "./issue-record.ts";
import { issueText, readIssue } from "./read-issue.ts";

/** Not a hash, but tells texts apart. */
const digest = (text: string): string => text;
const input: Json = { id: "mill", people: [{ id: "owner", phone: "1" }, { id: "desk" }] };

function request(changes: Partial<IssueRequest> = {}): IssueRequest {
  const base = { kind: "owner-notice", of: "mill", language: "en", input, today: "2026-11-25", version: "1" };
  return { ...(base as IssueRequest), ...changes };
}

const first = issueOf(request(), digest);
const next = (changes: Partial<IssueRequest>): Issue =>
  issueOf(request({ previous: first, today: "2027-01-01", ...changes }), digest);

describe("issueOf", () => {
  it("begins with revision 1 and no changes", () => {
    expect(first).toMatchObject({
      number: "owner-notice mill",
      revision: 1,
      date: "2026-11-25",
      changes: [],
    });
  });

  it("gives the same issue, with its old date, where nothing changed", () => {
    expect(next({})).toBe(first);
    expect(next({ input: { people: (input as { people: Json }).people, id: "mill" } })).toBe(first);
  });

  it.each([
    [
      "a changed value",
      { input: { id: "mill", people: [{ id: "owner", phone: "2" }, { id: "desk" }] } },
      "people owner phone",
    ],
    ["somebody gone", { input: { id: "mill", people: [{ id: "owner", phone: "1" }] } }, "people desk"],
    [
      "another order",
      { input: { id: "mill", people: [{ id: "desk" }, { id: "owner", phone: "1" }] } },
      "order of entries",
    ],
    ["a date asked for", { date: "2027-01-01" }, "date"],
    ["another author", { by: "J. Example" }, "made by"],
    ["another version", { version: "2" }, "version of the program"],
  ])("makes revision 2 for %s and says what changed", (_, changes, what) => {
    const issue = next(changes);
    expect(issue.revision).toBe(2);
    expect(issue.changes.map((change) => change.what)).toEqual([what]);
  });

  it("does not go on from the issue of another paper", () => {
    expect(next({ of: "shed" })).toMatchObject({ number: "owner-notice shed", revision: 1 });
    expect(next({ language: "es" })).toMatchObject({ number: "owner-notice-es mill", revision: 1 });
  });
});

describe("compareInputs", () => {
  it("tells before and now, in the order of the newer input", () => {
    expect(compareInputs({ a: 1, b: [1, 2] }, { b: [1, 3], c: "x" })).toEqual([
      { what: "b", before: "[1,2]", now: "[1,3]" },
      { what: "c", before: null, now: "x" },
      { what: "a", before: "1", now: null },
    ]);
  });

  it("tells of a line of a history what was written, and not how it is kept", () => {
    const [first, remark] = [
      { at: 1, by: null, text: "Opened." },
      { at: 2, by: "Ann", text: "All was changed." },
    ];
    expect(compareInputs({ timeline: [first] }, { timeline: [first, remark] })).toEqual([
      { what: "timeline 2", before: null, now: "All was changed." },
    ]);
  });
});

describe("recordAfter", () => {
  const file = (name: string, sha256: string) => ({ name, sha256 });

  it("adds further files to a revision, and keeps the ones of those before", () => {
    const made = recordAfter(null, first, [file("a-1.pdf", "11")]);
    const more = recordAfter(made, first, [file("a-1.html", "22")]);
    expect(more.revisions.map(({ files }) => files)).toEqual([
      [file("a-1.pdf", "11"), file("a-1.html", "22")],
    ]);
    const second = next({ input: { id: "other" } });
    const { revisions, issue } = recordAfter(more, second, [file("a-2.pdf", "33")]);
    expect(issue).toBe(second);
    expect(revisions.map(({ revision, files }) => [revision, files.length])).toEqual([
      [1, 2],
      [2, 1],
    ]);
  });
});

describe("readIssue", () => {
  const record = recordAfter(null, first, [{ name: "a-1.pdf", sha256: "11" }]);
  const text = issueText(record);

  it("takes back what was written", () => {
    expect(readIssue(text, digest)).toEqual(record);
  });

  it.each([
    ["no JSON", "{"],
    ["another thing", "[]"],
    ["inputs altered afterwards", text.replace('"phone": "1"', '"phone": "9"')],
    ["no revision", text.replace('"revision": 1', '"revision": "one"')],
    ["a file without its digest", text.replace('"sha256": "11"', '"sha256": 11')],
  ])("refuses %s", (_, broken) => {
    expect(broken).not.toBe(text);
    expect(readIssue(broken, digest)).toBeNull();
  });
});

describe("canonicalJson", () => {
  it("does not depend on the order of fields and leaves out what is undefined", () => {
    expect(canonicalJson({ b: 1, a: { d: [true, null], c: undefined } })).toBe(
      '{"a":{"d":[true,null]},"b":1}',
    );
  });
});
