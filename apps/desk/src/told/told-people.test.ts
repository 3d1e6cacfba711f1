import type { Site } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import { entriesOf } from "./told-entry.ts";
import { found, togetherByAddress } from "./told-people.ts";

function site(id: string, people: Site["people"], to: readonly string[] = []): Site {
  const path = { id: "P1", arrays: ["A1"], signal: "message", to } as const;
  return { id, name: `Hall of ${id}`, place: { country: "AU" }, people, paths: [path] } as unknown as Site;
}

const SITES = [
  site("fell", [
    { id: "owner", role: "owner", address: { email: "fell@example.net" } },
    { id: "desk", address: { email: "Faults@example.org", phone: "+61 3 5550 0100" } },
  ]),
  site("mill", [
    { id: "owner", role: "owner", address: { email: "mill@example.net" } },
    { id: "night", address: { phone: "+61355500100" } },
    { id: "nobody" },
  ]),
  site("tarn", [{ id: "service", address: { email: "faults@example.org" } }, { id: "nobody" }]),
];
const people = await togetherByAddress(SITES.flatMap((one) => entriesOf(one, 1, new Map())));
const namesOf = (all: typeof people) =>
  all.map(({ entries }) => entries.map((one) => `${one.site} ${one.person.id}`));

describe("people over all sites", () => {
  it("are one where they share an address, however it is spelled and by way of a third; ids alone join nobody", () => {
    expect(namesOf(people)).toEqual([
      ["fell owner"],
      ["fell desk", "mill night", "tarn service"],
      ["mill owner"],
      ["mill nobody"],
      ["tarn nobody"],
    ]);
  });

  it("are found by every word of what is typed, in address, id, role and site, without case and accents", async () => {
    expect(namesOf(await found(people, "OWNER mill"))).toEqual([["mill owner"]]);
    expect(namesOf(await found(people, "hall tárn faults"))).toEqual([
      ["fell desk", "mill night", "tarn service"],
    ]);
    expect(await found(people, "nobody here")).toEqual([]);
    expect(await found(people, " ")).toHaveLength(5);
  });

  it("stand on a path at once or after the time of their rung, with everybody else on it", () => {
    const ladders = new Map([["P1", [{ afterMin: 240, to: ["night", "owner"] }]]]);
    const [first, second, third] = entriesOf(
      { ...SITES[1]!, paths: site("mill", [], ["owner"]).paths },
      3,
      ladders,
    );
    expect(first!.paths).toEqual([{ path: "P1", afterMin: null, others: ["night"] }]);
    expect(second!.paths).toEqual([{ path: "P1", afterMin: 240, others: ["owner"] }]);
    expect(third!.paths).toEqual([]);
  });
});
