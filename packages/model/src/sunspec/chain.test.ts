import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { discover, type RegisterAnswer } from "./chain.ts";
import { commonModel, discoverIn, type ModelOfDevice, registersOfDevice } from "./registers.fixture.ts";

const INVERTER: ModelOfDevice = { id: 103, length: 50 };
const STATUS: ModelOfDevice = { id: 122, length: 44 };
const codesOf = (registers: ReadonlyMap<number, number>) =>
  discoverIn(registers).found.problems.map(({ code }) => code);

describe("the chain of a device", () => {
  it.each([0, 40_000, 50_000])("is found where it begins at %i", (base) => {
    const { found } = discoverIn(registersOfDevice([commonModel(), INVERTER, STATUS], base));
    expect(found).toMatchObject({ ok: true, problems: [], chain: { base } });
    expect(found.ok && found.chain.models).toEqual([
      { id: 1, address: base + 2, length: 66 },
      { id: 103, address: base + 70, length: 50 },
      { id: 122, address: base + 122, length: 44 },
    ]);
    expect(found.ok && found.chain.identity).toMatchObject({ maker: "Skua", serial: "N-0042" });
  });

  it("moves on by the length that was read: an old common model is one shorter", () => {
    const { found } = discoverIn(registersOfDevice([{ ...commonModel(), length: 65 }, INVERTER]));
    expect(found.ok && found.chain.models.map(({ address }) => address)).toEqual([40_002, 40_069]);
    expect(found.ok && found.chain.identity?.serial).toBe("N-0042");
  });

  it("ends at an end model whose length is not served", () => {
    const registers = new Map(registersOfDevice([commonModel(), INVERTER]));
    registers.delete(40_000 + 2 + 68 + 52 + 1);
    expect(discoverIn(registers).found).toMatchObject({ ok: true, problems: [] });
  });

  it("keeps several models of one number", () => {
    const { found } = discoverIn(
      registersOfDevice([commonModel(), { id: 401, length: 30 }, { id: 401, length: 38 }]),
    );
    expect(found.ok && found.chain.models.map(({ id }) => id)).toEqual([1, 401, 401]);
  });

  it.each<[string, readonly ModelOfDevice[], readonly string[]]>([
    ["a known model that is too short", [commonModel(), { id: 103, length: 30 }], ["SUNSPEC_LENGTH_UNUSUAL"]],
    [
      "blocks that do not come out even",
      [commonModel(), { id: 160, length: 8 + 20 + 7 }],
      ["SUNSPEC_LENGTH_UNUSUAL"],
    ],
    ["no common model", [INVERTER], ["SUNSPEC_COMMON_MISSING"]],
    ["a model of length 0", [commonModel(), INVERTER, { id: 64_001, length: 0 }], ["SUNSPEC_MODEL_EMPTY"]],
    ["a model of number 0", [commonModel(), INVERTER, { id: 0, length: 10 }], ["SUNSPEC_MODEL_EMPTY"]],
  ])("says so and watches what it has: %s", (_, models, codes) => {
    const { found } = discoverIn(registersOfDevice(models));
    expect(found).toMatchObject({ ok: true });
    expect(found.problems.map(({ code }) => code)).toEqual(codes);
  });

  it("that breaks off is watched as far as it goes", () => {
    const registers = new Map(
      [...registersOfDevice([commonModel(), INVERTER, STATUS])].filter(([at]) => at < 40_122),
    );
    expect(discoverIn(registers).found).toMatchObject({
      ok: true,
      problems: [{ code: "SUNSPEC_CHAIN_CUT" }],
    });
  });

  it("is stopped by a length that leads past the last register", () => {
    const registers = new Map(registersOfDevice([commonModel(), INVERTER, { id: 64_001, length: 4 }]));
    registers.set(40_123, 65_535);
    expect(codesOf(registers)).toEqual(["SUNSPEC_LENGTH_ABSURD"]);
  });

  it("is stopped where registers repeat without an end", () => {
    const walk = discover();
    let step = walk.next();
    for (let reads = 0; step.done !== true; reads++) {
      expect(reads).toBeLessThan(1000);
      const { address, count } = step.value;
      const marker = address === 40_000;
      step = walk.next({ ok: true, registers: marker ? [0x5375, 0x6e53] : Array<number>(count).fill(1) });
    }
    expect(step.value.problems.map(({ code }) => code)).toContain("SUNSPEC_CHAIN_ENDLESS");
  });

  it("with nothing in it to watch is refused with what it holds", () => {
    const { found } = discoverIn(registersOfDevice([commonModel(), { id: 120, length: 26 }]));
    expect(found).toMatchObject({ ok: false, problems: [{ code: "SUNSPEC_NOTHING_TO_WATCH" }] });
    expect(found.problems[0]?.text).toContain("1, 120");
  });

  it("is missing where no marker stands, unless the maker's registers are mapped", () => {
    expect(discoverIn(new Map()).found).toMatchObject({
      ok: false,
      problems: [{ code: "SUNSPEC_MARKER_MISSING" }],
    });
    expect(discoverIn(new Map(), false).found).toMatchObject({ ok: true, chain: { models: [] } });
  });

  it("is walked to an end whatever a device answers, within the registers there are", () => {
    const answer = fc.oneof(
      fc.record({ ok: fc.constant(true as const), registers: fc.array(fc.nat(0xffff), { maxLength: 70 }) }),
      fc.record({ ok: fc.constant(false as const), exception: fc.nat(255) }),
      fc.constant<RegisterAnswer>({ ok: true, registers: [0x5375, 0x6e53] }),
      fc
        .constantFrom(1, 103, 122, 160, 401, 714)
        .map((id): RegisterAnswer => ({ ok: true, registers: [id, 50] })),
    );
    fc.assert(
      fc.property(fc.array(answer, { minLength: 1, maxLength: 30 }), (answers) => {
        const walk = discover();
        let step = walk.next();
        for (let reads = 0; step.done !== true; reads++) {
          const { address, count } = step.value;
          expect(address).toBeGreaterThanOrEqual(0);
          expect(address + count).toBeLessThanOrEqual(65_536);
          expect(count).toBeLessThanOrEqual(125);
          expect(reads).toBeLessThan(1000);
          step = walk.next(answers[reads % answers.length]!);
        }
        expect(step.value.ok || step.value.problems.length > 0).toBe(true);
      }),
    );
  });
});
