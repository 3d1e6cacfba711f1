import { describe, expect, it } from "vitest";
import { chooseStyle, plainStyle } from "./style.ts";

const on = { color: undefined, isTerminal: true, environment: { TERM: "xterm-256color" } };

describe("chooseStyle", () => {
  it.each([
    { why: "a terminal gets colour", wish: on, colour: true },
    { why: "a pipe gets none", wish: { ...on, isTerminal: false }, colour: false },
    { why: "NO_COLOR switches it off", wish: { ...on, environment: { NO_COLOR: "1" } }, colour: false },
    { why: "an empty NO_COLOR does not count", wish: { ...on, environment: { NO_COLOR: "" } }, colour: true },
    { why: "TERM=dumb switches it off", wish: { ...on, environment: { TERM: "dumb" } }, colour: false },
    { why: "never wins over a terminal", wish: { ...on, color: "never" }, colour: false },
    {
      why: "always wins over a pipe and NO_COLOR",
      wish: { color: "always", isTerminal: false, environment: { NO_COLOR: "1" } },
      colour: true,
    },
  ])("$why", ({ wish, colour }) => {
    expect(chooseStyle(wish).fault("x").includes("\u001b[")).toBe(colour);
  });

  it("puts the plain text back when colour is off", () => {
    expect(plainStyle.copper("next")).toBe("next");
  });

  it("writes no codes around nothing", () => {
    expect(chooseStyle({ ...on, color: "always" }).strong("")).toBe("");
  });
});
