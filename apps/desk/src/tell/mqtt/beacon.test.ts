import { describe, expect, it } from "vitest";
import { envelopeTo } from "../http/listening.fixture.ts";
import { beaconPayload } from "./beacon.ts";

const raised = [
  { site: "tarn", matter: "C1", text: "array A1: residual-current trip", sinceAt: Date.UTC(2026, 5, 1, 5) },
];
const payloads = { on: "1", off: "0" };

describe("what is published for a beacon", () => {
  it.each([
    [raised, "1"],
    [[], "0"],
    [undefined, "0"],
  ])("with payloads of its own: %j as %s", (now, payload) => {
    const envelope = envelopeTo("t", now === undefined ? {} : { raised: now });
    expect(beaconPayload(envelope, payloads)).toBe(payload);
  });

  it.each([
    [
      raised,
      "raised",
      [
        {
          site: "tarn",
          matter: "C1",
          text: "array A1: residual-current trip",
          since: "2026-06-01T05:00:00.000Z",
        },
      ],
    ],
    [[], "clear", []],
  ])("without: a record of everything that is raised", (now, state, list) => {
    const envelope = envelopeTo("t", { raised: now, person: "lamp", sequence: 7 });
    expect(JSON.parse(beaconPayload(envelope, undefined))).toEqual({
      format: "earthbell.beacon/1",
      beacon: "lamp",
      state,
      raised: list,
      number: 7,
      writtenAt: "2026-06-01T05:12:00.000Z",
    });
  });
});
