import { formatHours, parseHours } from "@earthbell/model";
import { describe, expect, it } from "vitest";
import { hoursOf, kindOf, rowsOf } from "./hours-rows.ts";

/** The hours of the week as the reader of site files has them. */
function read(text: string): unknown {
  const result = parseHours(text);
  return result.ok ? result.hours : result.message;
}

describe("hours in rows", () => {
  it.each([
    "Mon-Fri 07:00-17:00",
    "Mon-Sun 05:00-10:00, 15:00-19:00",
    "Sat 22:00-Sun 06:00",
    "Mon-Wed 08:00-12:00, 13:00-17:00, Sat 09:00-10:30",
    "Sat-Mon 22:00-06:00",
  ])("mean the same as %s when they are written again", (written) => {
    const result = parseHours(written);
    const asTold = formatHours(result.ok ? result.hours : []);
    expect(read(hoursOf(rowsOf(asTold)))).toEqual(read(written));
  });

  it("are none where the file says always, never or nothing", () => {
    expect(["always", "never", null, "Mon 07:00-08:00"].map(kindOf)).toEqual([
      "always",
      "never",
      "unknown",
      "some",
    ]);
  });

  it("keep what was typed, for the desk to name what is wrong with it", () => {
    expect(hoursOf([{ from: "Mon", to: "Mon", begins: " 7 ", ends: "25:00" }])).toBe("Mon 7-25:00");
  });
});
