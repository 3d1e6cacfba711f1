import { describe, expect, it } from "vitest";
import { GaveUp } from "../within.ts";
import { outcomeOfFailure } from "./mail-outcome.ts";

function failure(said: string, command: string, code = "EENVELOPE"): Error {
  return Object.assign(new Error(`failed: ${said}`), {
    code,
    command,
    response: said,
    responseCode: Number(said.slice(0, 3)),
  });
}

/** Replies as RFC 5321, RFC 3463 and RFC 4954 define their codes. */
describe("a failed mail", () => {
  it.each<[string, string, string, "later" | "refused"]>([
    ["greylisting", "451 4.7.1 Greylisted, come again", "RCPT TO", "later"],
    ["mailbox busy", "450 mailbox unavailable", "RCPT TO", "later"],
    ["no such user", "550 5.1.1 No such user here", "RCPT TO", "refused"],
    ["no such user, no enhanced code", "550 no such user", "RCPT TO", "refused"],
    ["domain takes no mail", "556 5.1.10 null MX", "RCPT TO", "refused"],
    ["mailbox disabled", "550 5.2.1 mailbox disabled", "RCPT TO", "refused"],
    ["recipient's policy", "550 5.7.1 blocked by the recipient", "RCPT TO", "refused"],
    ["content refused", "554 5.6.0 cannot take this content", "DATA", "refused"],
    ["relaying denied", "550 5.7.1 Relaying denied", "RCPT TO", "later"],
    ["relaying denied, short", "554 Relay access denied", "RCPT TO", "later"],
    ["login wanted at the recipient", "530 5.7.0 Authentication required", "RCPT TO", "later"],
    ["sender's address is bad", "553 5.1.8 bad sender's system address", "RCPT TO", "later"],
    ["sender refused", "553 5.1.8 sender domain unknown", "MAIL FROM", "later"],
    ["mail system of the server", "554 5.3.0 mail system broken", "DATA", "later"],
    ["command not known", "502 5.5.1 no such command here", "RCPT TO", "later"],
    ["command not known, no enhanced code", "500 what", "DATA", "later"],
    ["full queue after the message", "452 4.3.1 insufficient storage", "DATA", "later"],
  ])("%s", (_, said, command, outcome) => {
    expect(outcomeOfFailure(failure(said, command)).outcome).toBe(outcome);
  });

  it.each<[string, unknown, RegExp]>([
    [
      "bad password",
      failure("535 5.7.8 credentials invalid", "AUTH PLAIN", "EAUTH"),
      /name and password.*535 5\.7\.8/u,
    ],
    [
      "a certificate nobody knows",
      Object.assign(new Error("self-signed certificate"), { code: "ESOCKET" }),
      /protected/u,
    ],
    ["no STARTTLS", Object.assign(new Error("STARTTLS not offered"), { code: "ETLS" }), /protected/u],
    [
      "no connection",
      Object.assign(new Error("connect ECONNREFUSED"), { code: "ESOCKET" }),
      /No conversation/u,
    ],
    ["too late", new GaveUp("No answer within 90 s."), /No answer within 90 s\./u],
  ])("is tried later, with its reason: %s", (_, error, reason) => {
    const outcome = outcomeOfFailure(error);
    expect(outcome).toMatchObject({ outcome: "later" });
    expect(outcome).toHaveProperty("reason", expect.stringMatching(reason));
  });

  it("a reply cannot forge lines in the reason", () => {
    const outcome = outcomeOfFailure(failure("550 5.1.1 no\r\n250 yes", "RCPT TO"));
    expect(outcome).toEqual({
      outcome: "refused",
      reason: "The mail server refuses this address: 550 5.1.1 no 250 yes",
    });
  });
});
