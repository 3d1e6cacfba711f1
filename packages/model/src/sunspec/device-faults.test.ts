import { describe, expect, it } from "vitest";
import { readDesk } from "../desk/read-desk.ts";
import { malformed, malformedTable } from "../fixtures/malformed.ts";
import type { SunspecDevice } from "./device.ts";

const SOUND = `format: earthbell.desk/1
desk: {name: Skerry co-operative}
gateways:
  - id: harbour
    host: 192.0.2.10
    devices:
      - id: INV1
        unit: 1
        site: harbour-office
        arrays: [A1, A2]
        ports: {"1": A1, "401.2/3": A2}
        strings: {"1": S3}
        extras:
          - {is: event-bit, model: 103, instance: 1, point: EvtVnd1, bit: 4, kind: earth-fault-bit, array: A2}
          - {is: register, address: 41200, type: uint16, unit: kiloohm, absent: [9999], kind: insulation, array: A1}
          - {is: register, address: 41201, type: uint16, bit: 15, kind: residual-trip}
`;

const SLIPS = malformedTable(`
a port counted from 0 │ {"1": A1 │ {▸"0": A1 │ DESK_PORT_NAME_INVALID │ gateways[0].devices[0].ports.0
a port of a model that has none │ "401.2/3": A2 │ ▸"103/1": A2 │ DESK_PORT_NAME_INVALID │ gateways[0].devices[0].ports."103/1"
a string at the maker's name of a port │ strings: {"1" │ strings: {▸"PV1" │ DESK_PORT_NAME_INVALID │ gateways[0].devices[0].strings.PV1
a port of an array that is not listed │ "1": A1, │ "1": ▸A9, │ DESK_ARRAY_UNLISTED │ gateways[0].devices[0].ports.1 │ A1, A2
an extra of an array that is not listed │ kind: insulation, array: A1 │ kind: insulation, array: ▸A9 │ DESK_ARRAY_UNLISTED │ gateways[0].devices[0].extras[1].array
a bitfield that the model does not have │ point: EvtVnd1 │ point: ▸DCEvt │ DESK_POINT_UNKNOWN │ gateways[0].devices[0].extras[0].point │ EvtVnd1
a model without a bitfield │ model: 103 │ model: ▸122 │ DESK_POINT_UNKNOWN │ gateways[0].devices[0].extras[0].model
amperes of insulation │ unit: kiloohm │ unit: ▸ampere │ DESK_UNIT_UNFIT │ gateways[0].devices[0].extras[1].unit │ megaohm
a bit past the register │ bit: 15 │ bit: ▸16 │ DESK_BIT_UNFIT │ gateways[0].devices[0].extras[2].bit │ 0 to 15
a bit of a number with a sign │ type: uint16, bit: 15 │ type: int16, bit: ▸15 │ DESK_BIT_UNFIT │ gateways[0].devices[0].extras[2].bit
a bit of a measured value │ bit: 15, kind: residual-trip │ bit: ▸15, kind: insulation │ DESK_BIT_UNFIT │ gateways[0].devices[0].extras[2].bit
a register past the last │ address: 41201, type: uint16, bit: 15 │ address: ▸65535, type: uint32, bit: 15 │ DESK_REGISTER_PAST_END │ gateways[0].devices[0].extras[2].address │ 65534
`);

describe("the mapping of a device", () => {
  it("is read as the decoder takes it", () => {
    const result = readDesk(SOUND, "desk.yaml");
    const device: SunspecDevice | undefined = result.ok ? result.record.gateways?.[0]?.devices[0] : undefined;
    expect(device).toMatchObject({ id: "INV1", ports: { 1: "A1", "401.2/3": "A2" }, strings: { 1: "S3" } });
  });

  it.each(SLIPS)("points at $title with $code", (row) => {
    const { text, code, line, column, field, says = "" } = malformed(SOUND, row);
    const result = readDesk(text, "desk.yaml");
    if (result.ok) throw new Error("It was read without a fault");
    const [fault, ...again] = result.faults.filter((found) => found.field === field);
    expect(again).toEqual([]);
    expect(fault, JSON.stringify(result.faults)).toMatchObject({ code, line, column });
    expect(`${fault!.message} ${fault!.allowed}`).toContain(says);
  });
});
