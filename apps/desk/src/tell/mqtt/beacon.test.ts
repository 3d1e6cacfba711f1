import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { envelopeTo } from "../http/listening.fixture.ts";
import { beaconRecord, eventTopic, stateTopic } from "./beacon.ts";

describe("where messages to machines go", () => {
  it("the event beside the state of its matter", () => {
    expect(eventTopic("tarn/beacon")).toBe("tarn/beacon/messages");
    expect(stateTopic({ address: "tarn/beacon", matter: "A1 path/silent" })).toBe(
      "tarn/beacon/state/A1%20path%2Fsilent",
    );
  });

  it("no name of a matter makes a wildcard or another level", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", minLength: 1 }), (matter) => {
        const topic = stateTopic({ address: "t", matter });
        expect(topic.split("/")).toHaveLength(3);
        expect(topic).not.toMatch(/[+#\p{Cc}\p{Cs}]/u);
      }),
    );
  });
});

describe("the state of a matter", () => {
  it.each([
    ["first", "raised"],
    ["repeat", "raised"],
    ["escalation", "raised"],
    ["cleared", "clear"],
  ] as const)("%s: %s", (kind, state) => {
    expect(beaconRecord(envelopeTo("t", { kind }))).toEqual({
      format: "earthbell.beacon/1",
      state,
      site: "tarn",
      matter: "C1",
      subject: "Alarm: Tarn Mill",
      writtenAt: "2026-06-01T05:12:00.000Z",
    });
  });
});
