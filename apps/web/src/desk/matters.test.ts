import { describe, expect, it } from "vitest";
import { type AtDesk, mattersOf } from "./matters.ts";
import type { Alarm, Case, Drill } from "./records.ts";

const NOW = Date.UTC(2026, 5, 1, 12);
const HOUR = 3_600_000;
const EMPTY: AtDesk = {
  cases: [],
  alarms: [],
  drills: [],
  visits: [],
  setAside: [],
  broken: [],
  listeners: [],
  more: { unanswered: 0, present: 0, silent: 0, missed: 0, unsigned: 0, drills: 0, visits: 0, upkeep: 0 },
  unserved: { first: [], count: 0 },
  unproved: { first: [], count: 0 },
  nameOf: (site) => `The ${site}`,
  zoneHere: () => "UTC",
  role: "service",
};

function alarm(id: string, change: Partial<Alarm> = {}): Alarm {
  return {
    id,
    site: "mill",
    subject: { kind: "array", array: "A1" },
    sign: "earth-fault-bit",
    condition: "active",
    occurrence: 1,
    activeAt: NOW - HOUR,
    clearedAt: null,
    acknowledged: null,
    latched: true,
    chatter: { clearsAt: [], sinceAt: null, lastHeard: null },
    staleAt: null,
    shelf: null,
    suppression: null,
    maintenance: null,
    ...change,
  };
}

function faultCase(id: string, alarms: readonly string[], present: readonly string[]): Case {
  return {
    id,
    site: "mill",
    array: "A1",
    openedAt: NOW - 3 * HOUR,
    recurrenceOf: null,
    alarms,
    presentAlarms: present,
    latchedAlarms: alarms,
    lastBeganAt: NOW - 3 * HOUR,
    cause: null,
    measured: null,
    ownerTold: null,
    closed: null,
    timeline: [],
  };
}

function drill(change: Partial<Drill>): Drill {
  return {
    id: "D1",
    site: "mill",
    path: "P1",
    trigger: "on-demand",
    by: "Ann",
    startedAt: NOW - HOUR,
    answerByAt: NOW + HOUR,
    recipients: [{ person: "owner", acknowledgedAt: null }],
    leftOut: [],
    ended: null,
    ...change,
  };
}

const words = (desk: Partial<AtDesk>): readonly string[] =>
  mattersOf({ ...EMPTY, ...desk }, NOW).map(({ word }) => word);

describe("an array that its history says somebody has to go to", () => {
  const visit = {
    ...{
      site: "mill",
      array: "A1",
      why: "Progressive decline. At the threshold in 40 days.",
      by: "2026-06-20",
    },
    ...{ below: false, sinkingSince: null },
  };

  it("is told as Drift tells it, before the signs of detectors", () => {
    const stuck = alarm("N9", { sign: "detector-stuck", latched: false });
    const matters = mattersOf({ ...EMPTY, visits: [visit], alarms: [stuck] }, NOW);
    expect(matters.map(({ word }) => word)).toEqual(["Drifting", "Detector"]);
    expect(matters[0]).toMatchObject({ title: "The mill, array A1", why: visit.why, byWhen: visit.by });
  });

  it("that is below its threshold says so by a mark, and one that the watch sees sink says since when", () => {
    const [matter] = mattersOf({ ...EMPTY, visits: [{ ...visit, below: true, sinkingSince: NOW }] }, NOW);
    expect(matter).toMatchObject({ state: "fault", word: "Below threshold" });
    expect(matter!.why).toContain("The watch sees it sink as well, since ");
  });
});

describe("what needs a person", () => {
  it("is nothing at a desk where nothing is wrong", () => {
    expect(mattersOf(EMPTY, NOW)).toEqual([]);
  });

  it("begins with faults nobody answered, then those present, and signs come after ways that would not tell", () => {
    const cases = [
      faultCase("C1", ["gone"], []),
      faultCase("C2", ["known"], ["known"]),
      faultCase("C3", ["new"], ["new"]),
    ];
    const alarms = [
      alarm("known", { acknowledged: { by: "Ann", at: NOW } }),
      alarm("new"),
      alarm("quiet", { sign: "path-silent", subject: { kind: "path", path: "P1", person: null } }),
    ];
    expect(words({ cases, alarms })).toEqual(["Unanswered", "Present", "Silent", "To be signed"]);
  });

  it("says what a case still lacks", () => {
    const [only] = mattersOf({ ...EMPTY, cases: [faultCase("C1", [], [])] }, NOW);
    expect(only!.title).toBe("The mill, array A1");
    expect(only!.why).toContain("No cause is signed");
    expect(only!.why).toContain("owner");
  });

  it.each([
    ["one that runs", {}, ["Drill"]],
    ["one that was missed", { ended: { at: NOW, outcome: "missed" } }, ["Drill missed"]],
    ["one passed an hour ago", { ended: { at: NOW, outcome: "passed" } }, []],
    [
      "one passed two years ago",
      { startedAt: NOW - 730 * 24 * HOUR, ended: { at: NOW - 730 * 24 * HOUR, outcome: "passed" } },
      ["Drill due"],
    ],
  ] satisfies [string, Partial<Drill>, string[]][])("of drills: %s", (_, change, expected) => {
    expect(words({ drills: [drill(change)] })).toEqual(expected);
  });

  it("of a missed drill names who did not answer, instead of the path alone", () => {
    const subject = { kind: "path", path: "P1", person: "owner" } as const;
    const alarms = [alarm("missed", { sign: "drill-missed", subject })];
    const drills = [drill({ ended: { at: NOW, outcome: "missed" } })];
    const matters = mattersOf({ ...EMPTY, alarms, drills }, NOW);
    expect(matters.map(({ word, title }) => [word, title])).toEqual([
      ["Drill missed", "The mill, path P1 to owner"],
    ]);
  });

  it("of a drill that runs says which beacons burn for it, and of a missed one that nobody saw them", () => {
    const lamp = { beacon: "lamp", saysDrill: false, litUntilAt: NOW + HOUR, seen: null };
    const [runs] = mattersOf({ ...EMPTY, drills: [drill({ beacons: [lamp] })] }, NOW);
    expect(runs!.why).toContain("waits for owner, somebody who saw beacon lamp burn.");
    expect(runs!.why).toMatch(/Beacon lamp burns for it until .* cannot show that it is a drill\./u);
    const subject = { kind: "path", path: "P1", person: null } as const;
    const [missed] = mattersOf({ ...EMPTY, alarms: [alarm("m", { sign: "drill-missed", subject })] }, NOW);
    expect(missed!.title).toBe("The mill, path P1");
    expect(missed!.why).toContain("Nobody saw each beacon of the path burn");
  });

  it("tells of deaf listeners and of addresses that reach nobody", () => {
    const listeners = [
      { name: "mqtt", state: "deaf", known: 3, unheard: 3, text: "Nothing heard." },
    ] as const;
    const broken = [{ channel: "email", address: "a@example.org", sinceAt: NOW, reason: "bounced" }];
    expect(words({ listeners, broken })).toEqual(["Deaf", "Broken address"]);
  });

  it("names the first of many sites that are not served or not proved, in a line each", () => {
    const unserved = { first: ["a", "b", "c"], count: 5 };
    const unproved = { first: ["s"], count: 1 };
    expect(mattersOf({ ...EMPTY, unserved, unproved }, NOW)).toMatchObject([
      { word: "Not served", title: "The a; The b; The c and 2 more" },
      { word: "Not proved", title: "The s" },
    ]);
  });

  it("says of each kind how many more there are, behind those that are named", () => {
    const more = { ...EMPTY.more, unanswered: 812, unsigned: 3 };
    const cases = [faultCase("C1", ["new"], ["new"]), faultCase("C2", [], [])];
    const matters = mattersOf({ ...EMPTY, cases, alarms: [alarm("new")], more }, NOW);
    expect(matters.map(({ word, title }) => `${word}: ${title}`)).toEqual([
      "Unanswered: The mill, array A1",
      "Unanswered: 812 more faults that nobody has answered",
      "To be signed: The mill, array A1",
      "To be signed: 3 more cases that lack a step",
    ]);
  });
});

describe("what needs a person, told to somebody who cannot do it", () => {
  const ago = {
    startedAt: NOW - 730 * 24 * HOUR,
    ended: { at: NOW - 730 * 24 * HOUR, outcome: "passed" },
  } as const;
  const everything: Partial<AtDesk> = {
    cases: [faultCase("C1", ["new"], ["new"]), faultCase("C2", [], [])],
    alarms: [
      alarm("new"),
      alarm("missed", { sign: "drill-missed", subject: { kind: "path", path: "P9", person: "owner" } }),
      alarm("quiet", { sign: "path-silent", subject: { kind: "path", path: "P1", person: null } }),
    ],
    drills: [
      drill(ago),
      drill({ id: "D2", path: "P2" }),
      drill({ id: "D3", path: "P3", ended: { at: NOW, outcome: "missed" } }),
    ],
    setAside: [{ pack: "x", field: "alarm.leastAddresses", text: "Set aside. Look at it again." }],
  };
  const told = (role: AtDesk["role"]): string =>
    mattersOf({ ...EMPTY, ...everything, role }, NOW)
      .map(({ word, why }) => `${word}: ${why}`)
      .join("\n");
  // An order begins a sentence with what is to be done.
  const ORDER = /(?:^|[.:;] )(?:Hold|Mend|Find|Sign|Measure|Tell|Look|Take|Override) /mu;

  it("orders nothing of those who only look, and says who does it", () => {
    const owner = told("owner");
    expect(told("service")).toMatch(ORDER);
    for (const { why } of mattersOf({ ...EMPTY, ...everything, role: "owner" }, NOW))
      expect(why).not.toMatch(ORDER);
    expect(owner).toContain("It is answered by a service engineer, a technician or the installer.");
    expect(owner).toContain("No cause is signed yet; a service engineer or a technician signs it.");
    expect(
      owner.match(/Drills are held by a service engineer, a technician or the installer\./gu),
    ).toHaveLength(3);
    expect(owner).toContain("Override set aside: The pack itself says otherwise by now");
  });

  it("tells an installer to hold drills and to measure, and that the cause is signed by others", () => {
    const installer = told("installer");
    expect(installer).toContain("Hold it.");
    expect(installer).toContain("Find out why, and hold it again.");
    expect(installer).toContain("Measure it after the repair, under the cautions of the test.");
    expect(installer).toContain("a service engineer or a technician signs it.");
    expect(installer).not.toContain("Sign what was found.");
  });

  it("tells a technician everything of a case, and that overrides are decided by others", () => {
    const technician = told("technician");
    expect(technician).toContain("Sign what was found.");
    expect(technician).toContain("A service engineer decides on it.");
    expect(technician).not.toContain("Look at it again.");
    expect(told("service")).toContain("Look at it again.");
  });
});
