import { describe, expect, it } from "vitest";
import { asciiOnly, pageWidth } from "./page.ts";

describe("pageWidth", () => {
  it.each([
    { terminal: 132, variable: undefined, width: 132, why: "the terminal's own width" },
    { terminal: 132, variable: "60", width: 132, why: "the terminal wins over COLUMNS" },
    { terminal: undefined, variable: undefined, width: 80, why: "80 when piped" },
    { terminal: undefined, variable: "60", width: 60, why: "COLUMNS when piped" },
    { terminal: undefined, variable: "wide", width: 80, why: "a COLUMNS that is no number is not heard" },
    { terminal: 12, variable: undefined, width: 40, why: "never under 40" },
    { terminal: 900, variable: undefined, width: 200, why: "never over 200" },
  ])("$why", ({ terminal, variable, width }) => {
    expect(pageWidth(terminal, variable)).toBe(width);
  });
});

describe("asciiOnly", () => {
  it.each([
    { asked: true, environment: { LANG: "en_AU.UTF-8" }, ascii: true },
    { asked: false, environment: { LANG: "en_AU.UTF-8" }, ascii: false },
    { asked: false, environment: { LANG: "de_DE.ISO-8859-1" }, ascii: true },
    { asked: false, environment: { LANG: "en_AU.UTF-8", LC_ALL: "de_DE.iso88591" }, ascii: true },
    { asked: false, environment: { LC_ALL: "", LANG: "en_NZ.utf8" }, ascii: false },
    { asked: false, environment: { LANG: "C" }, ascii: false },
    { asked: false, environment: {}, ascii: false },
  ])("asked $asked with $environment gives $ascii", ({ asked, environment, ascii }) => {
    expect(asciiOnly(asked, environment)).toBe(ascii);
  });
});
