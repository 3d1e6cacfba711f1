import { describe, expect, it } from "vitest";
import { readDesk } from "../desk/read-desk.ts";
import { malformed } from "../fixtures/malformed.ts";
import { DEVICE_YAML, MALFORMED_DEVICES } from "../fixtures/malformed-device.ts";
import type { SunspecDevice } from "./device.ts";

describe("the mapping of a device", () => {
  it("is read as the decoder takes it", () => {
    const result = readDesk(DEVICE_YAML, "desk.yaml");
    const device: SunspecDevice | undefined = result.ok ? result.record.gateways?.[0]?.devices[0] : undefined;
    expect(device).toMatchObject({ id: "INV1", ports: { 1: "A1", "401.2/3": "A2" }, strings: { 1: "S3" } });
  });

  it.each(MALFORMED_DEVICES)("points at $title with $code", (row) => {
    const { text, code, line, column, field, says = "" } = malformed(DEVICE_YAML, row);
    const result = readDesk(text, "desk.yaml");
    if (result.ok) throw new Error("It was read without a fault");
    const [fault, ...again] = result.faults.filter((found) => found.field === field);
    expect(again).toEqual([]);
    expect(fault, JSON.stringify(result.faults)).toMatchObject({ code, line, column });
    expect(`${fault!.message} ${fault!.allowed}`).toContain(says);
  });
});
