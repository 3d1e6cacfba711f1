import { describe, expect, it } from "vitest";
import { firstRequests } from "../simulate/index.ts";
import { locate } from "./locate.ts";
import { READING_CODES } from "./reading-codes.ts";
import { circuitWith, exactVisit, stringWith } from "./simulated-visit.fixture.ts";
import type { Visit } from "./visit.ts";

const FAULT = [{ string: "S2", at: 7, ohms: 30e3 }];
const CIRCUIT = exactVisit(circuitWith(FAULT), firstRequests("C1"));
const behindDiodes = (visit: Visit): Visit => ({
  ...visit,
  circuits: visit.circuits.map((circuit) => ({ ...circuit, blockingDiodes: true })),
});
const readAlone = (id: string): Visit["readings"] =>
  exactVisit(circuitWith(FAULT), firstRequests(id)).readings;

describe("readings under load", () => {
  const loaded = exactVisit(stringWith([{ string: "S1", at: 5, ohms: 10e3 }]));

  it("name no place, plan nothing and carry their code, where the same readings at open circuit locate", () => {
    expect(locate(loaded).verdict).toBe("located");
    const declined = locate({ ...loaded, conditions: { ...loaded.conditions, underLoad: true } });
    expect(declined).toMatchObject({ verdict: "cannot-tell", next: [], codes: ["READING_UNDER_LOAD"] });
    expect(declined.because).toContain("under load");
  });
});

describe("readings through blocking diodes", () => {
  it("name no place, and the plan reads a string by itself first", () => {
    const finding = locate(behindDiodes(CIRCUIT));
    expect(finding.verdict).toBe("cannot-tell");
    expect(finding.codes).toContain("READING_THROUGH_DIODES");
    expect(finding.next[0]).toMatchObject({ action: "isolate-string", group: ["S1"] });
  });

  it("are left out, said by number, once a string was read alone; the string read alone is located", () => {
    const both = behindDiodes({ ...CIRCUIT, readings: [...CIRCUIT.readings, ...readAlone("S2")] });
    const finding = locate(both);
    expect(finding.verdict).toBe("located");
    expect(finding.places[0]).toMatchObject({ string: "S2", at: 7 });
    expect(finding.warnings.join()).toContain("readings 1, 2, 3, 4, 5");
    const only = locate({ ...both, readings: readAlone("S2") });
    expect(finding.places).toEqual(only.places);
  });

  it("lead to the next string alone while those read were sound, never to a group on the joined circuit", () => {
    const finding = locate(behindDiodes({ ...CIRCUIT, readings: readAlone("S1") }));
    const isolations = finding.next.filter(({ action }) => action === "isolate-string");
    expect(isolations.length).toBeGreaterThan(0);
    for (const { group, readings } of isolations) {
      expect(group).toHaveLength(1);
      expect(readings.every(({ on }) => on === group![0])).toBe(true);
    }
    expect(finding.next.every(({ readings }) => readings.every(({ on }) => on !== "C1"))).toBe(true);
  });
});

describe("codes of a finding", () => {
  it("name the string that was still joined to its circuit when it was read as alone", () => {
    const alone = readAlone("S1");
    const slipped = { ...CIRCUIT.readings[2]!, on: "S1" };
    const readings = [...CIRCUIT.readings, ...alone.with(2, slipped)];
    const finding = locate({ ...CIRCUIT, readings });
    expect(finding.verdict).toBe("inconsistent");
    expect(finding.codes).toContain("READING_STRING_CONNECTED");
  });

  it("name the doubtful length where + to − does not fit the number of modules", () => {
    const visit = exactVisit(stringWith([{ string: "S1", at: 5, ohms: 10e3 }]));
    const longer = { ...visit, strings: [{ ...visit.strings[0]!, modules: 22 }] };
    expect(locate(visit).codes).toEqual([]);
    expect(locate(longer).codes).toEqual(["READING_LENGTH_DOUBTFUL"]);
    expect(locate(longer).warnings.join()).toContain("[READING_LENGTH_DOUBTFUL]");
  });

  it("stand in the catalogue once each, in the scheme of codes, with what to do", () => {
    const codes = READING_CODES.map(({ code }) => code);
    expect(new Set(codes).size).toBe(codes.length);
    for (const { code, title, meaning, next, source } of READING_CODES) {
      expect(code).toMatch(/^READING_[A-Z]+(_[A-Z]+)+$/u);
      for (const words of [title, meaning, next, source]) expect(words.length).toBeGreaterThan(10);
    }
  });

  it("hold the code of each suspect, so that a program need not read the words", () => {
    const visit = exactVisit(stringWith([{ string: "S1", at: 5, ohms: 40e3 }]));
    const swapped = { ...visit.readings[1]!, value: visit.readings[2]!.value } as Visit["readings"][number];
    const finding = locate({ ...visit, readings: visit.readings.with(1, swapped) });
    expect(finding.suspect.length).toBeGreaterThan(0);
    for (const { code } of finding.suspect) expect(finding.codes).toContain(code);
  });
});
