import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseArguments } from "./arguments.ts";
import type { Option } from "./option.ts";

const options: readonly Option[] = [
  { name: "json", help: "" },
  { name: "help", help: "" },
  { name: "rules", value: "FILE", repeatable: true, help: "" },
  { name: "on", value: "DATE", help: "" },
  { name: "color", value: "WHEN", choices: ["auto", "always", "never"], help: "" },
];
const parse = (...words: string[]) => parseArguments(words, options);

describe("parseArguments", () => {
  it("tells operands from options in any order", () => {
    const { arguments: got, faults } = parse("a.yaml", "--json", "b.yaml", "--on", "2026-02-03");
    expect(faults).toEqual([]);
    expect(got.operands).toEqual(["a.yaml", "b.yaml"]);
    expect(got.has("json")).toBe(true);
    expect(got.value("on")).toBe("2026-02-03");
  });

  it("takes a value joined by = as well as the next word", () => {
    expect(parse("--rules=one.yaml", "--rules", "two.yaml").arguments.values("rules")).toEqual([
      "one.yaml",
      "two.yaml",
    ]);
  });

  it("keeps = inside a joined value", () => {
    expect(parse("--rules=a=b").arguments.value("rules")).toBe("a=b");
  });

  it("reads a single dash as standard input, also as a value", () => {
    expect(parse("-").arguments.operands).toEqual(["-"]);
    expect(parse("--rules", "-").arguments.value("rules")).toBe("-");
  });

  it("takes every word after -- as an operand", () => {
    const { arguments: got, faults } = parse("--", "--json", "-x");
    expect(faults).toEqual([]);
    expect(got.operands).toEqual(["--json", "-x"]);
  });

  it("reads -h as --help", () => {
    expect(parse("-h").arguments.has("help")).toBe(true);
  });

  it.each([
    { words: ["--jsn"], code: "COMMAND_OPTION_UNKNOWN", suggestion: "--json" },
    { words: ["-json"], code: "COMMAND_OPTION_UNKNOWN", suggestion: "--json" },
    { words: ["--json=yes"], code: "COMMAND_VALUE_UNEXPECTED", suggestion: "--json" },
    { words: ["--on"], code: "COMMAND_VALUE_MISSING", suggestion: "--on DATE" },
    { words: ["--on="], code: "COMMAND_VALUE_MISSING", suggestion: "--on DATE" },
    { words: ["--on", "--json"], code: "COMMAND_VALUE_MISSING", suggestion: "--on DATE" },
    { words: ["--color", "allways"], code: "COMMAND_VALUE_UNKNOWN", suggestion: "--color=always" },
  ])("answers $words with $code and offers $suggestion", ({ words, code, suggestion }) => {
    const { faults } = parse(...words);
    expect(faults.map((fault) => fault.code)).toEqual([code]);
    expect(faults[0]?.suggestions).toContain(suggestion);
  });

  it("lists all options when none is near", () => {
    const [fault] = parse("--zzzzzz").faults;
    expect(fault?.lead).toBe("all");
    expect(fault?.suggestions).toHaveLength(options.length);
  });

  it("refuses a second value where only one can hold", () => {
    expect(parse("--on=2026-01-01", "--on=2026-01-02").faults[0]?.code).toBe("COMMAND_OPTION_REPEATED");
  });

  it("names every fault of the line at once", () => {
    expect(parse("--jsn", "--on", "--color=red").faults).toHaveLength(3);
  });

  it("never throws, whatever the words", () => {
    fc.assert(
      fc.property(fc.array(fc.oneof(fc.string(), fc.constantFrom("--json", "--on", "--", "-"))), (words) => {
        expect(() => parse(...words)).not.toThrow();
      }),
    );
  });

  it("keeps words without a dash in their order, options between them or not", () => {
    const plain = fc.string().filter((word) => !word.startsWith("-"));
    fc.assert(
      fc.property(fc.array(plain), (words) => {
        expect(parse(...words.flatMap((word) => [word, "--json"])).arguments.operands).toEqual(words);
      }),
    );
  });
});
