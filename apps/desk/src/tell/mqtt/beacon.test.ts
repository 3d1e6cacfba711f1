import { describe, expect, it } from "vitest";
import { envelopeTo } from "../http/listening.fixture.ts";
import { beaconPayload } from "./beacon.ts";

const raised = [
  { site: "tarn", matter: "C1", text: "array A1: residual-current trip", sinceAt: Date.UTC(2026, 5, 1, 5) },
];
const payloads = { on: "1", off: "0" };

const drills = [
  {
    site: "tarn",
    drill: "D1",
    path: "P1",
    sinceAt: Date.UTC(2026, 5, 1, 5),
    untilAt: Date.UTC(2026, 5, 1, 6),
  },
];

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
    [{ ...payloads, drill: "2" }, [], "2"],
    [payloads, [], "1"],
    [{ ...payloads, drill: "2" }, raised, "1"],
    [payloads, raised, "1"],
  ])("for a drill, with %j beside %j: %s", (own, now, payload) => {
    expect(beaconPayload(envelopeTo("t", { raised: now, drills }), own)).toBe(payload);
  });

  it.each([
    [raised, "raised"],
    [[], "drill"],
  ])("as a record of a drill beside %j: state %s", (now, state) => {
    expect(JSON.parse(beaconPayload(envelopeTo("t", { raised: now, drills }), undefined))).toMatchObject({
      state,
      drills: [
        {
          site: "tarn",
          drill: "D1",
          path: "P1",
          since: "2026-06-01T05:00:00.000Z",
          until: "2026-06-01T06:00:00.000Z",
        },
      ],
    });
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
      drills: [],
      number: 7,
      writtenAt: "2026-06-01T05:12:00.000Z",
    });
  });
});
