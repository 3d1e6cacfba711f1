import { describe, expect, it } from "vitest";
import { isPlainTopic } from "./plain-topic.ts";

describe("a plain topic", () => {
  it.each([
    ["earthbell/v1", true],
    ["tarn", true],
    ["Tarn Mill/beacon", true],
    ["tarn/#", false],
    ["tarn/+/x", false],
    ["$SYS/broker", false],
    ["/tarn", false],
    ["tarn/", false],
    ["tarn//x", false],
    ["tarn\u0000x", false],
    ["tarn\nx", false],
    ["", false],
    ["x".repeat(501), false],
  ])("%j: %s", (text, plain) => {
    expect(isPlainTopic(text)).toBe(plain);
  });
});
