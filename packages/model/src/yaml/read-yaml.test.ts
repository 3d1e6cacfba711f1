import { describe, expect, test } from "vitest";
import { readYaml, watchYaml } from "./read-yaml.ts";

// Expected data follow YAML 1.2.2 (chapters 6 to 8 and the core schema of 10.3), but for the lone dash, which is ours.
const READ: readonly (readonly [why: string, text: string, data: unknown])[] = [
  ["a lone + and - in braces", "{from: +, to: -}", { from: "+", to: "-" }],
  ["a lone - before a comma", "{from: -, to: earth}", { from: "-", to: "earth" }],
  ["a lone - before a blank and a brace", "{to: - }", { to: "-" }],
  ["a lone - at the end of a line", "from: -\nto: earth", { from: "-", to: "earth" }],
  ["a lone - before a comment", "from: - # lead on frame\nto: +", { from: "-", to: "+" }],
  ["a lone - as an entry", "[+, -]", ["+", "-"]],
  ["a dash below its key as an empty entry", "to:\n  -\n", { to: [null] }],
  ["a - inside text", "{a: -3 °C, b: 12-14, c: a - b}", { a: "-3 °C", b: "12-14", c: "a - b" }],
  ["quantities as text", "voc: 49.5 V\ncoefficient: -0.27 %/K", { voc: "49.5 V", coefficient: "-0.27 %/K" }],
  [
    "dates and hours as text",
    "on: 2026-02-03\nreads: 07:00-17:00",
    { on: "2026-02-03", reads: "07:00-17:00" },
  ],
  [
    "numbers of the core schema",
    "[1, -2, +3, .5, 1., 1e3, 0x1F, 0o17, 1_000]",
    [1, -2, 3, 0.5, 1, 1000, 31, 15, "1_000"],
  ],
  ["words of the core schema", "[true, False, null, ~, yes, NO]", [true, false, null, null, "yes", "NO"]],
  ["quoted words as text", "['true', \"1\", '']", ["true", "1", ""]],
  ["a key without a value", "a:\nb: 1", { a: null, b: 1 }],
  ["a list at its key's own column", "a:\n- 1\n- b: 2\n  c: 3\nd: 4", { a: [1, { b: 2, c: 3 }], d: 4 }],
  ["lists in lists on one line", "- - 1\n  - 2\n- 3", [[1, 2], 3]],
  ["comments and empty lines", "# top\n\na: 1 # one\n\n  # inner\nb: 'x # y'", { a: 1, b: "x # y" }],
  ["a # without a blank", "a: b#c", { a: "b#c" }],
  ["text over several lines", "a: one\n  two\n\n  three\nb: 1", { a: "one two\nthree", b: 1 }],
  ["quoted text over several lines", 'a: "one\n  two\\\n  three"', { a: "one twothree" }],
  ["kept lines", "a: |\n  one\n   two\n\n  three\nb: 1", { a: "one\n two\n\nthree\n", b: 1 }],
  ["folded lines", "a: >-\n  one\n  two\n\n  three\n", { a: "one two\nthree" }],
  ["escapes", '"\\u03A9 \\x41 \\" \\\\ \\/ \\n"', 'Ω A " \\ / \n'],
  ["surrogate halves that meet", '"\\ud83d\\ude00"', "😀"],
  ["a trailing comma and a bare key", "{a: 1, b,}", { a: 1, b: null }],
  ["brackets over lines", "a: {b: [1,\n  2], # two\n  c: 3}", { a: { b: [1, 2], c: 3 } }],
  ["an anchor and its alias", "a: &x {b: 1}\nc: *x", { a: { b: 1 }, c: { b: 1 } }],
  ["document marks", "--- # begin\na: 1\n...\n", { a: 1 }],
];

describe("readYaml", () => {
  test.each(READ)("reads %s", (_, text, data) => {
    expect(readYaml(text)).toEqual({ ok: true, data, duplicates: [] });
  });

  test("keeps a key called __proto__ as a key", () => {
    const read = readYaml("__proto__: {polluted: true}");
    expect(read.ok && Object.keys(read.data as object)).toEqual(["__proto__"]);
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
  });

  test.each([
    ["a - before text on its key's line", "a: - b", 3, "line of its own"],
    ["a list entry beside a map", "a: 1\n- b", 5, "key: value"],
    ["a map inside a list without braces", "[a: 1]", 2, "braces"],
    ["a colon in plain text", "a: b: c", 4, "quotes"],
    ["an unfinished escape", '"\\u12"', 1, "hexadecimal"],
    ["a bracket closed at its key's column", "a: [\n  1\n]", 9, "not indented"],
    ["a comment without a blank", '"a"#b', 3, "space"],
    ["an anchor on a key", "&a b: 1", 3, "behind the colon"],
  ])("refuses %s where it stands", (_, text, offset, says) => {
    const read = readYaml(text);
    expect(read).toMatchObject({ ok: false, trouble: { code: "INPUT_SYNTAX_INVALID", offset } });
    expect(read.ok ? "" : read.trouble.message).toContain(says);
  });

  test("tells the place of every key and value", () => {
    const text = "a:\n  - {b: 1, c: [x, y]}\n";
    const places: string[] = [];
    watchYaml(text, (path, part, offset) => {
      places.push(`${path.join(".")} ${part} ${text.slice(offset, offset + 1)}${offset}`);
    });
    expect(places).toEqual([
      " value a0",
      "a key a0",
      "a value -5",
      "a.0 key -5",
      "a.0 value {7",
      "a.0.b key b8",
      "a.0.b value 111",
      "a.0.c key c14",
      "a.0.c value [17",
      "a.0.c.0 key x18",
      "a.0.c.0 value x18",
      "a.0.c.1 key y21",
      "a.0.c.1 value y21",
    ]);
  });
});
