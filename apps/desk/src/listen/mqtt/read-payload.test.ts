import { checkReading } from "@earthbell/model";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Arrival, type PayloadRead, readPayload } from "./read-payload.ts";
import { readTopic, topicFilters } from "./topic.ts";

const NOW = Date.UTC(2026, 5, 1, 5, 12);
const AT = "2026-06-01T07:10:00+02:00";
const insulation = { array: "A1", at: AT, kind: "insulation", value: 12_300, unit: "ohm" };

function read(payload: unknown, topic = "eb/tarn/inv1/readings"): PayloadRead {
  const text = typeof payload === "string" ? payload : JSON.stringify(payload);
  return readPayload({ topic, payload: new TextEncoder().encode(text), at: NOW }, "eb", "mqtt");
}

/** Codes and fields by which the desk's door refuses a record. */
function refusedFields(record: unknown): readonly string[] {
  const checked = checkReading(record);
  return checked.ok ? [] : checked.refusals.map(({ code, field }) => `${code} ${field}`);
}

describe("readings of a device", () => {
  it("take site and device from the topic, and the instant with its zone", () => {
    const { records, problem, drill } = read({ readings: [insulation] });
    expect({ problem, drill }).toEqual({ problem: null, drill: false });
    expect(records).toEqual([
      {
        site: "tarn",
        device: "inv1",
        source: "mqtt",
        array: "A1",
        at: Date.UTC(2026, 5, 1, 5, 10),
        kind: "insulation",
        value: 12_300,
        unit: "ohm",
        quality: "good",
        key: expect.stringMatching(/^mqtt:[0-9a-f]{40}$/u) as string,
      },
    ]);
    expect(refusedFields(records[0])).toEqual([]);
  });

  it.each<[string, object]>([
    ["a bit without a unit", { at: AT, kind: "earth-fault-bit", value: true }],
    ["a word", { at: AT, kind: "device-state", value: "waiting" }],
    ["a heartbeat", { at: AT, kind: "heartbeat", value: true }],
    ["an instant in milliseconds", { ...insulation, at: NOW }],
    ["what the device does not offer", { at: AT, kind: "residual-trip", quality: "not-implemented" }],
    ["with a key of the device's own", { ...insulation, key: "17" }],
  ])("are taken: %s", (_, reading) => {
    expect(refusedFields(read({ readings: [reading] }).records[0])).toEqual([]);
  });

  it.each<[string, unknown, string]>([
    ["no unit of a measured value", { ...insulation, unit: undefined }, "READING_UNIT_WRONG unit"],
    ["a wrong unit", { ...insulation, unit: "kilohm" }, "READING_UNIT_WRONG unit"],
    ["an instant without a zone", { ...insulation, at: "2026-06-01T07:10:00" }, "READING_INSTANT_INVALID at"],
    ["no instant", { ...insulation, at: undefined }, "READING_INSTANT_INVALID at"],
    ["a misspelt field", { ...insulation, vlaue: 1 }, "READING_FIELD_UNKNOWN vlaue"],
    ["another site", { ...insulation, site: "holm" }, "READING_FIELD_UNKNOWN site in the payload"],
    ["another device", { ...insulation, device: "inv9" }, "READING_FIELD_UNKNOWN device in the payload"],
    ["no reading at all", 17, "READING_FIELD_UNKNOWN reading"],
  ])("are set aside by the door: %s", (_, reading, refusal) => {
    const [record] = read({ readings: [reading] }).records;
    expect(refusedFields(record)).toContain(refusal);
    expect(record).toMatchObject({ site: "tarn", device: "inv1" });
  });

  it.each<[string, string]>([
    [
      "a value nested deeper than a program can follow",
      `{"at":1,"value":${"[".repeat(200_000)}${"]".repeat(200_000)}}`,
    ],
    ["a field of an endless name", `{"${"x".repeat(400_000)}":1}`],
    ["more fields than there are", `{${Array.from({ length: 50_000 }, (_, n) => `"f${n}":${n}`).join(",")}}`],
    ["an endless word", `{"kind":"device-state","at":${NOW},"value":"${"x".repeat(400_000)}"}`],
  ])("are set aside, and small enough to be kept: %s", (_, reading) => {
    const [record] = read(`{"readings":[${reading}]}`).records;
    expect(checkReading(record).ok).toBe(false);
    expect(JSON.stringify(record).length).toBeLessThan(12_000);
  });

  it("one bad reading does not hold up the others of its message", () => {
    const { records } = read({
      readings: [insulation, { kind: "insulation" }, { ...insulation, array: "A2" }],
    });
    expect(records.map((record) => checkReading(record).ok)).toEqual([true, false, true]);
  });

  it("have the same key when they come again, and another when anything differs", () => {
    const key = (change: object = {}) => {
      const [record] = read({ readings: [{ ...insulation, ...change }] }).records;
      return (record as { key: string }).key;
    };
    expect(key()).toBe(key());
    expect(
      new Set([key(), key({ value: 1 }), key({ array: "A2" }), key({ at: NOW }), key({ key: "2" })]).size,
    ).toBe(5);
  });

  it("flagged as a drill say so", () => {
    expect(read({ readings: [insulation], drill: true }).drill).toBe(true);
  });

  it.each<[string, unknown, RegExp]>([
    ["no JSON", "{", /not a JSON object/u],
    ["a list", "[]", /not a JSON object/u],
    ["nothing", "", /not a JSON object/u],
    ["no readings", {}, /readings is not a list/u],
    ["an empty list", { readings: [] }, /readings is not a list/u],
    ["too many readings", { readings: Array.from({ length: 1001 }, () => 1) }, /at most 1000/u],
    ["an unknown field", { readings: [insulation], dril: true }, /"dril" is not known/u],
    ["a drill that is no bit", { readings: [insulation], drill: "yes" }, /drill/u],
  ])("a message in which nothing can be looked at is kept, with the reason: %s", (_, payload, problem) => {
    const { records, problem: said, drill } = read(payload);
    expect(said).toMatch(problem);
    expect(drill).toBe(false);
    expect(records).toHaveLength(1);
    expect(checkReading(records[0]).ok).toBe(false);
  });
});

describe("the life of a device", () => {
  const topic = "eb/tarn/inv1/life";

  it("alive is a heartbeat at the instant it names", () => {
    const { records, alive } = read({ alive: true, at: AT, session: "s1" }, topic);
    expect(alive).toBe(true);
    expect(refusedFields(records[0])).toEqual([]);
    expect(records[0]).toMatchObject({
      kind: "heartbeat",
      value: true,
      quality: "good",
      at: Date.UTC(2026, 5, 1, 5, 10),
    });
  });

  it("the last will is a heartbeat that passes for no sign of life, dated by its arrival", () => {
    const { records, alive } = read({ alive: false, session: "s1" }, topic);
    expect(alive).toBe(false);
    expect(refusedFields(records[0])).toEqual([]);
    expect(records[0]).toMatchObject({ kind: "heartbeat", value: null, quality: "stale", at: NOW });
  });

  it("a retained will that comes again later is the same observation", () => {
    const text = new TextEncoder().encode('{"alive":false,"session":"s1"}');
    const keys = [NOW, NOW + 60_000].map((at) => {
      const [record] = readPayload({ topic, payload: text, at }, "eb", "mqtt").records;
      return (record as { key: string }).key;
    });
    expect(keys[0]).toBe(keys[1]);
  });

  it.each([[{}], [{ alive: "yes" }], [{ alive: true }], [{ alive: true, at: AT, sesion: 1 }]])(
    "%j is set aside",
    (payload) => {
      expect(read(payload, topic).problem).not.toBeNull();
    },
  );
});

describe("topics", () => {
  it.each([
    ["eb/tarn/inv1/readings", { site: "tarn", device: "inv1", about: "readings" }],
    ["eb/tarn/inv1/life", { site: "tarn", device: "inv1", about: "life" }],
    ["eb/tarn/inv1/other", null],
    ["eb/tarn/inv1/readings/more", null],
    ["eb/tarn/readings", null],
    ["eb//inv1/readings", null],
    ["ebb/tarn/inv1/readings", null],
    ["eb", null],
    ["", null],
  ])("%j", (topic, read) => {
    expect(readTopic(topic, "eb")).toEqual(read);
  });

  it.each([
    [undefined, ["eb/+/+/readings", "eb/+/+/life"]],
    ["desks", ["$share/desks/eb/+/+/readings", "$share/desks/eb/+/+/life"]],
  ])("subscribed to, share %j", (share, filters) => {
    expect(topicFilters("eb", share)).toEqual(filters);
  });
});

describe("whatever arrives", () => {
  const anyTopic = fc.oneof(
    fc.string({ unit: "binary" }),
    fc.constantFrom("eb/tarn/inv1/readings", "eb/tarn/inv1/life", "eb/ta\u0000rn/ / /life"),
  );
  const anyPayload = fc.oneof(
    fc.uint8Array({ maxLength: 200 }),
    fc.json().map((text) => new TextEncoder().encode(text)),
    fc
      .record(
        {
          readings: fc.array(
            fc.oneof(
              fc.jsonValue(),
              fc.record(
                {
                  array: fc.jsonValue(),
                  at: fc.oneof(
                    fc.jsonValue(),
                    fc.date({ noInvalidDate: true }).map((date) => date.toISOString()),
                  ),
                  kind: fc.constantFrom("insulation", "heartbeat", "__proto__", "constructor"),
                  value: fc.jsonValue(),
                  unit: fc.jsonValue(),
                  quality: fc.jsonValue(),
                  key: fc.jsonValue(),
                  ["__proto__"]: fc.jsonValue(),
                  site: fc.jsonValue(),
                },
                { requiredKeys: [] },
              ),
            ),
          ),
          alive: fc.jsonValue(),
          session: fc.jsonValue(),
          drill: fc.jsonValue(),
          at: fc.jsonValue(),
        },
        { requiredKeys: [] },
      )
      .map((value) => new TextEncoder().encode(JSON.stringify(value))),
  );

  it("gives records that the door can look at, speaks for no other device, and never throws", () => {
    fc.assert(
      fc.property(anyTopic, anyPayload, (topic, payload) => {
        const arrival: Arrival = { topic, payload, at: NOW };
        const { records, from } = readPayload(arrival, "eb", "mqtt");
        expect(records.length).toBeGreaterThan(0);
        for (const record of records) {
          const checked = checkReading(record);
          if (!checked.ok) continue;
          expect({ site: checked.reading.site, device: checked.reading.device }).toEqual({
            site: from!.site,
            device: from!.device,
          });
          expect(checked.reading.source).toBe("mqtt");
        }
        expect(() => JSON.stringify(records)).not.toThrow();
      }),
      { numRuns: 1000 },
    );
  });
});
