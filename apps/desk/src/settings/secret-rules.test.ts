import { describe, expect, it } from "vitest";
import { secretProblem } from "./secret-rules.ts";

const MAIL = { host: "mail.example.net", port: 587, password: { env: "MAIL" } };

describe("secrets of a section that is changed from a browser", () => {
  it.each<[string, unknown, unknown, RegExp | null]>([
    ["another field beside it", MAIL, { ...MAIL, fromName: "Skerry" }, null],
    ["a secret put in anew", MAIL, { ...MAIL, password: { file: "secrets/email-0a1b" } }, null],
    [
      "another server, with its own secret",
      MAIL,
      { host: "b", port: 1, password: { file: "secrets/e-1" } },
      null,
    ],
    [
      "another server, with the known secret",
      MAIL,
      { ...MAIL, host: "other.example" },
      /give its secret anew/u,
    ],
    ["a variable of the machine", MAIL, { ...MAIL, password: { env: "DATABASE_URL" } }, /env DATABASE_URL/u],
    ["a file of the machine", undefined, { ...MAIL, password: { file: "/etc/shadow" } }, /\/etc\/shadow/u],
    ["a way out of the folder", MAIL, { ...MAIL, password: { file: "secrets/../desk.db" } }, /desk\.db/u],
    [
      "a broker elsewhere, with the known secret",
      [{ id: "hall", url: "mqtts://a.example", password: { env: "B" } }],
      [{ id: "hall", url: "mqtts://b.example", password: { env: "B" } }],
      /mqtts:\/\/b\.example/u,
    ],
    [
      "another page of the same server",
      { url: "https://sms.example/a", secretHeaders: { key: { env: "K" } } },
      { url: "https://sms.example/b", secretHeaders: { key: { env: "K" } } },
      null,
    ],
  ])("%s", (_, before, after, problem) => {
    const found = secretProblem(before, after);
    if (problem === null) expect(found).toBeNull();
    else expect(found).toMatch(problem);
  });
});
