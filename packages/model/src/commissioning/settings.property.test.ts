import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { COMMISSIONING_YAML } from "../fixtures/commissioning-file.ts";
import { commissioningText, typedCommissioning } from "./commissioning-text.ts";
import { type Commissioning, readCommissioning } from "./read-commissioning.ts";

const read = readCommissioning(COMMISSIONING_YAML, "c.yaml", null);
if (!read.ok) throw new Error(JSON.stringify(read.faults));
const { record } = read;

/** Text that a person may type: words of YAML, quotes, other scripts, line ends; never blank. */
const words = fc
  .string({
    unit: fc.constantFrom(...Array.from("aé太 '\"#:-{}[],&*!|>%@`~?\n0"), "no", "null", ": ", " #"),
    minLength: 1,
    maxLength: 12,
  })
  .map((text) => `x${text}`);
const name = words.map((text) => text.replaceAll("\n", " ").trim());
const digest = fc.string({
  unit: fc.constantFrom(...Array.from("0123456789abcdef")),
  minLength: 64,
  maxLength: 64,
});
const found = fc.option(words, { nil: undefined });

const tick = fc.oneof(
  fc.record({ done: fc.constant(true), by: words, on: fc.constant("2026-03-17"), found }),
  fc.record({ done: fc.constant(false), because: words, found }),
  fc.record({ found }),
);
const step = fc.record({ do: words, tick });
const settings = fc.record({
  ...{ sheet: name, title: words, digest },
  revision: fc.option(fc.integer({ min: 1, max: 999 }), { nil: undefined }),
  firmware: fc.option(words, { nil: undefined }),
  steps: fc.array(step, { minLength: 1, maxLength: 5 }),
});

/** What a person has ticked, each list for a device of its own. */
function written(lists: readonly (typeof settings extends fc.Arbitrary<infer One> ? One : never)[]) {
  return lists.map(({ steps, ...sheet }, at) => ({
    ...sheet,
    device: `device ${at + 1}`,
    steps: steps.map((one, place) => ({ step: place + 1, do: one.do, ...one.tick })),
  }));
}
const withSettings = (ticked: readonly object[]): Commissioning =>
  JSON.parse(JSON.stringify({ ...record, settings: ticked })) as Commissioning;

describe("ticked setting sheets", () => {
  test("are read as they were written, whatever was typed", () => {
    fc.assert(
      fc.property(fc.array(settings, { maxLength: 3 }), (lists) => {
        const now = withSettings(written(lists));
        const again = readCommissioning(commissioningText(typedCommissioning(now)), "again.yaml", null);
        expect(again).toMatchObject({ ok: true, record: { settings: now.settings } });
      }),
      { numRuns: 200 },
    );
  });

  test("with any one step taken out or put twice are refused, and the fault names the step", () => {
    const several = fc.record({ list: settings, at: fc.nat() }).filter(({ list }) => list.steps.length > 1);
    fc.assert(
      fc.property(several, fc.boolean(), ({ list, at }, twice) => {
        const [one] = written([list]) as [ReturnType<typeof written>[number]];
        // Without its last step a list is whole as far as numbers go: only the sheet at hand tells.
        const which = at % (one.steps.length - (twice ? 0 : 1));
        const steps = one.steps.flatMap((entry, place) =>
          place !== which ? [entry] : twice ? [entry, entry] : [],
        );
        const text = commissioningText(typedCommissioning(withSettings([{ ...one, steps }])));
        const found = readCommissioning(text, "c.yaml", null);
        expect(found.ok ? [] : found.faults.map(({ code, field }) => [code, field])).toEqual([
          ["COMMISSIONING_SHEET_STEPS_WRONG", `settings[0].steps[${which + (twice ? 1 : 0)}].step`],
        ]);
      }),
      { numRuns: 100 },
    );
  });
});
