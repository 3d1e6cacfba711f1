import type { NoticeReport, Site } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import { plainStyle } from "../terminal/style.ts";
import { displayWidth } from "../terminal/width.ts";
import { noticeText, timeText } from "./notice-text.ts";

const answer = {
  medianHours: 12.3,
  p95Hours: null,
  unnoticedAfter24h: 0.31,
  unnoticedAfter7d: 0.2,
  unnoticedAfter28d: 0.1,
  meanHours: 80,
  biggestCause: { cause: "link", hours: 60 },
  curve: [
    { hours: 0, unnoticed: 1 },
    { hours: 672, unnoticed: 0.1 },
  ],
} as const;

const report: NoticeReport = {
  format: "earthbell.notice/1",
  site: "mill",
  onDate: "2026-06-01",
  followedDays: 28,
  answers: [
    { ...answer, paths: ["P1"] },
    { ...answer, paths: ["P2"], medianHours: null, biggestCause: null },
    { ...answer, paths: ["P1", "P2"] },
  ],
  notPerceived: ["P2"],
  causes: [{ cause: "link", hours: 60 }],
  changes: [
    {
      kind: "second-link",
      text: "Send it over a second link.",
      gainedHours: 41.2,
      medianHoursAfter: 11,
      p95HoursAfter: 72,
    },
  ],
  assumed: [{ text: "the link is up 90 % of the time", source: "default", tag: "design choice" }],
};
const site = { id: "mill", place: { country: "AU" } } as Site;

const drawn = (width: number, ascii = false): string =>
  noticeText({ report, site }, { width, ascii, style: plainStyle }).join("\n").replaceAll("\u00a0", " ");

describe("noticeText", () => {
  it("says of each path and of all when half and 95 % are known, and more than 28 days where beyond", () => {
    const text = drawn(80);
    expect(text).toMatch(/Path P1\n.*\n.*Half +known within 12.3 h\n.*95 % +not known within 28 days/u);
    expect(text).toMatch(/Path P2\n.*\n.*found to reach nobody\n.*Why +see earthbell assess/u);
    expect(text).toContain("P1 and P2 together");
    expect(text).toContain("31 % after 24 h, 20 % after 7 days");
    expect(text).toContain("mostly the link being down: 60 h");
  });

  it("names changes by hours gained and assumptions with source and tag", () => {
    expect(drawn(80)).toMatch(/41.2 h +Send it over a second link\. +3 days/u);
    expect(drawn(80)).toMatch(/90 % of the time\n +↳ default; design choice/u);
    expect(drawn(120)).toMatch(/90 % of the time +default; design choice/u);
  });

  it.each([40, 60, 80, 100, 120])("fits %i columns", (width) => {
    expect(Math.max(...drawn(width).split("\n").map(displayWidth))).toBeLessThanOrEqual(width);
  });
});

describe("timeText", () => {
  it.each([
    [0.5, "0.5 h"],
    [47.9, "47.9 h"],
    [60, "2.5 days"],
    [null, "more than 28 days"],
  ] as const)("%s hours: %s", (hours, text) => {
    expect(timeText(hours, 28).replaceAll("\u00a0", " ")).toBe(text);
  });
});
