import { describe, expect, it } from "vitest";
import { type Action, ACTIONS, type Bearer, mayDo, sees } from "./access.ts";

/** The whole matrix, written out: a change of what somebody may do has to be made here too. */
const MATRIX: readonly (readonly [Bearer["role"], string])[] = [
  [
    "service",
    "see-site see-messages see-people change-site change-people mend-address answer work-case close-case quiet drill issue-paper push override-rules change-settings keep-desk",
  ],
  [
    "technician",
    "see-site see-messages see-people mend-address answer work-case close-case quiet drill issue-paper",
  ],
  [
    "installer",
    "see-site see-people change-site change-people mend-address answer work-case drill issue-paper",
  ],
  ["owner", "see-site"],
  ["link", "see-site"],
  ["site", "push"],
];

describe.each(MATRIX)("%s", (role, allowed) => {
  it.each(ACTIONS)("%s", (action) => {
    expect(mayDo({ role, sites: null }, action, "tarn").ok).toBe(allowed.split(" ").includes(action));
  });
});

describe("an account that is bound to sites", () => {
  const bound: Bearer = { role: "service", sites: ["tarn"] };

  it.each<[Action, string | null, boolean]>([
    ["change-site", "tarn", true],
    ["change-site", "fell", false],
    ["see-site", "fell", false],
    ["see-site", null, true],
    ["see-messages", null, true],
    ["see-people", null, true],
    ["change-people", "tarn", true],
    ["change-people", "fell", false],
    ["change-people", null, false],
    ["mend-address", "tarn", true],
    ["mend-address", "fell", false],
    ["mend-address", null, false],
    ["keep-desk", null, false],
    ["override-rules", null, false],
    ["change-settings", null, false],
    ["answer", null, false],
    ["push", "fell", false],
  ])("%s at %s: %s", (action, site, ok) => {
    expect(mayDo(bound, action, site).ok).toBe(ok);
  });

  it("sees its own in lists, and an unbound one sees everything", () => {
    expect([sees(bound, "tarn"), sees(bound, "fell"), sees({ role: "owner", sites: null }, "fell")]).toEqual([
      true,
      false,
      true,
    ]);
  });
});
