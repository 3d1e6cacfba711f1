import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { WATCH_CODES } from "./codes.ts";

const folder = join(import.meta.dirname, ".");
const sources = readdirSync(folder, { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".ts") && !/codes\.ts$|\.test\.ts$|\.fixture\.ts$/u.test(name))
  .map((name) => readFileSync(join(folder, name), "utf8"));

describe("the catalogue of refusals", () => {
  it("has each code once", () => {
    expect(WATCH_CODES.length).toBeGreaterThan(30);
    expect(new Set(WATCH_CODES.map(({ code }) => code)).size).toBe(WATCH_CODES.length);
  });

  it.each(WATCH_CODES)(
    "$code is given by some step, and says in sentences what it means and what to do",
    (page) => {
      expect(page.code).toMatch(/^(READING|ALARM|CASE|DRILL)_[A-Z]+(_[A-Z]+)+$/u);
      expect(sources.some((text) => text.includes(`"${page.code}"`))).toBe(true);
      expect(page.title).not.toMatch(/[.!]$/u);
      for (const text of [page.meaning, page.next]) expect(text).toMatch(/^[A-Za-z][^!]*\.$/u);
    },
  );
});
