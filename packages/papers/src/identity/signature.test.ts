import { describe, expect, it } from "vitest";
import { judgeSignature, readSignature, signatureText } from "./signature.ts";

const text = signatureText({ file: "a.pdf", publicKey: "KEY", signature: "SIGNED" });
const signature = readSignature(text)!;

describe("judgeSignature", () => {
  it.each([
    ["valid", ["KEY"], true],
    ["unknown-key", ["OTHER"], true],
    ["unknown-key", [], true],
    ["altered", ["KEY"], false],
  ] as const)("is %s with keys %j when the bytes fit: %s", (verdict, known, fits) => {
    expect(
      judgeSignature(signature, known, (key, signed) => fits && key === "KEY" && signed === "SIGNED"),
    ).toBe(verdict);
  });

  it("takes no file for a signature that is none", () => {
    for (const other of ["", "{}", text.replace("Ed25519", "None"), text.replace('"SIGNED"', "7")])
      expect(readSignature(other)).toBeNull();
  });
});
