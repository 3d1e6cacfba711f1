import { describe, expect, it } from "vitest";
import type { Path, Site } from "../assess/site.ts";
import { judgePath, PATH_CODES, type PathCode } from "./index.ts";
import { annunciator, indicator, message, tarn } from "./tarn.fixture.ts";

const ON = "2026-06-01";

/** A spoiled path on a spoiled site: overrides are merged one level deep. */
interface Spoil {
  readonly path?: object;
  readonly loop?: object;
  readonly load?: object;
  readonly cable?: object;
  readonly listener?: object;
  readonly inverter?: object;
  readonly array?: object;
  readonly owner?: object;
  readonly site?: object;
  readonly proof?: object | null;
  readonly onDate?: string | null;
}

function judged(base: Path, spoil: Spoil): ReturnType<typeof judgePath> {
  const pathWith = { ...base, ...spoil.path } as Record<string, unknown>;
  if (base.signal === "annunciator" && pathWith["loop"] !== undefined) {
    const load = spoil.load ? { ...base.loop?.load, ...spoil.load } : base.loop?.load;
    const cable = spoil.cable ? { ...base.loop?.cable, ...spoil.cable } : base.loop?.cable;
    pathWith["loop"] = { ...base.loop, load, cable, ...spoil.loop };
    if (spoil.listener) pathWith["listener"] = { ...base.listener, ...spoil.listener };
  }
  const proofs = tarn.proofs
    .filter(() => spoil.proof !== null)
    .map((proof) => ({ ...proof, ...spoil.proof }));
  const site = {
    ...tarn,
    inverters: tarn.inverters.map((inverter) => ({ ...inverter, ...spoil.inverter })),
    arrays: tarn.arrays.map((array) => ({ ...array, ...spoil.array })),
    people: tarn.people.map((p) => (p.id === "owner" ? { ...p, ...spoil.owner } : p)),
    proofs,
    ...spoil.site,
  } as Site;
  const onDate = spoil.onDate === undefined ? ON : spoil.onDate;
  return judgePath(pathWith as unknown as Path, { site, ...(onDate === null ? {} : { onDate }) });
}

type Verdict = ReturnType<typeof judgePath>["verdict"];
type Case = readonly [PathCode, Verdict, Path, Spoil];

const place = tarn.inverters[0]!.where!;

/** By hand: √(10 cd / 1 mlx) = 100 m by bright day. */
const beacon = { kind: "beacon", light: { intensity: 10 } };

const cases: readonly Case[] = [
  ["PATH_SERVES_NO_ARRAY", "falls-short", message, { path: { arrays: ["A9"] } }],
  [
    "PATH_DETECTOR_UNKNOWN",
    "cannot-tell",
    message,
    { inverter: { insulationCheck: undefined, residualMonitor: undefined } },
  ],
  [
    "PATH_DETECTOR_NONE",
    "falls-short",
    message,
    { inverter: { insulationCheck: { at: [] }, residualMonitor: false } },
  ],
  ["PATH_PROOF_MISSING", "unproven", message, { proof: null }],
  ["PATH_PROOF_OLD", "unproven", message, { proof: { on: "2025-05-31" } }],
  ["PATH_PROOF_BEFORE_ALTERATION", "unproven", message, { array: { altered: "2026-03-01" } }],
  ["PATH_PROOF_DATE_AHEAD", "unproven", message, { proof: { on: "2026-06-02" } }],
  ["PATH_PROOF_UNACKNOWLEDGED", "unproven", message, { proof: { acknowledgedAfter: undefined } }],
  ["PATH_PROOF_AGE_UNKNOWN", "meets", message, { onDate: null }],
  ["PATH_PROOF_SLOW", "meets", message, { proof: { acknowledgedAfter: 1441 } }],
  ["PATH_PROOF_DETECTOR_NOT_TESTED", "meets", message, { proof: { kind: "drill" } }],
  ["PATH_PROOF_CURRENT", "meets", message, { proof: { on: "2025-06-01" } }],
  ["PATH_OWNER_NOT_TOLD", "meets", indicator, { site: { ownerInformed: undefined } }],
  ["PATH_ANY_FAULT", "meets", annunciator, {}],
  ["PATH_NOTICE_EXPECTED", "meets", message, {}],
  ["PATH_NOTICE_ASSUMED", "meets", message, {}],
  ["PATH_NOTICE_LATE", "falls-short", indicator, { inverter: { where: { ...place, passesPerDay: 0.3 } } }],
  ["PATH_NOTICE_LONG_TAIL", "meets", indicator, { site: { ownerInformed: undefined } }],
  ["PATH_RECIPIENTS_NONE", "falls-short", message, { path: { to: [] } }],
  ["PATH_RECIPIENTS_TOO_FEW", "falls-short", message, { path: { to: ["owner"] } }],
  ["PATH_RECIPIENT_UNKNOWN", "meets", message, { path: { to: ["owner", "desk", "ghost"] } }],
  ["PATH_RECIPIENT_NO_ADDRESS", "falls-short", message, { owner: { address: {} } }],
  [
    "PATH_RECIPIENT_SAME_ADDRESS",
    "falls-short",
    message,
    { owner: { address: { email: "Faults@example.org " } } },
  ],
  ["PATH_RECIPIENT_LEFT", "falls-short", message, { owner: { until: "2026-05-31" } }],
  ["PATH_RECIPIENT_END_NOT_JUDGED", "falls-short", message, { owner: { until: "2026-05-31" }, onDate: null }],
  ["PATH_RECIPIENT_AWAY", "meets", message, { owner: { away: [{ from: "2026-06-01", to: "2026-06-01" }] } }],
  ["PATH_RECIPIENT_NEVER_READS", "falls-short", message, { owner: { reads: [] } }],
  ["PATH_RECIPIENT_HABITS_UNKNOWN", "meets", message, { owner: { reads: undefined } }],
  ["PATH_REPEAT_UNKNOWN", "meets", message, { path: { repeatEvery: undefined } }],
  ["PATH_REPEAT_SLOW", "meets", message, { path: { repeatEvery: 61 } }],
  ["PATH_STOP_UNKNOWN", "meets", message, { path: { until: [] } }],
  ["PATH_STOP_WITHOUT_PERSON", "meets", message, { path: { until: ["cleared"] } }],
  ["PATH_LINK_UNKNOWN", "meets", message, { path: { link: { availability: 0.98, supervisedEvery: 60 } } }],
  ["PATH_LINK_DEAD", "falls-short", message, { path: { link: { availability: 0, meanOutage: 60 } } }],
  [
    "PATH_LINK_WEAK",
    "meets",
    message,
    { path: { link: { availability: 0.949, meanOutage: 60, supervisedEvery: 60 } } },
  ],
  ["PATH_LINK_UNSUPERVISED", "meets", message, { path: { link: { availability: 0.99, meanOutage: 60 } } }],
  [
    "PATH_SUPERVISION_SLOW",
    "meets",
    message,
    { path: { link: { availability: 0.99, meanOutage: 60, supervisedEvery: 1441 } } },
  ],
  ["PATH_PASSWORD_DEFAULT", "meets", message, { inverter: { defaultPasswordChanged: false } }],
  ["PATH_LOOP_UNKNOWN", "cannot-tell", annunciator, { path: { loop: undefined } }],
  ["PATH_LOOP_INCOMPLETE", "cannot-tell", annunciator, { load: { minimumVoltage: undefined } }],
  ["PATH_LOOP_ASSUMED_WORST", "meets", annunciator, { cable: { temperature: undefined } }],
  ["PATH_LOOP_FIGURES", "meets", annunciator, {}],
  ["PATH_CABLE_AREA_UNKNOWN", "cannot-tell", annunciator, { cable: { area: 1.3 } }],
  ["PATH_LOAD_VOLTAGE_LOW", "falls-short", annunciator, { load: { minimumVoltage: 9.95 } }],
  ["PATH_LOAD_VOLTAGE_TIGHT", "meets", annunciator, { load: { minimumVoltage: 9.9 } }],
  ["PATH_BATTERY_NONE", "meets", annunciator, { loop: { battery: undefined } }],
  ["PATH_STANDBY_SHORT", "meets", annunciator, { loop: { quiescentCurrent: 0.3 } }],
  ["PATH_QUIESCENT_UNKNOWN", "meets", annunciator, { loop: { quiescentCurrent: undefined } }],
  ["PATH_SENSE_HIDES", "meets", annunciator, { loop: { sense: "energise-to-alarm", supervised: false } }],
  ["PATH_SENSE_UNKNOWN", "meets", annunciator, { loop: { sense: undefined } }],
  ["PATH_SENSE_DEAD_INVERTER", "meets", annunciator, { loop: { sense: "energise-to-alarm" } }],
  ["PATH_SENSE_FAIL_SAFE", "meets", annunciator, {}],
  ["PATH_LISTENER_UNKNOWN", "cannot-tell", annunciator, { path: { listener: undefined } }],
  ["PATH_LISTENER_ABSENT", "falls-short", annunciator, { listener: { present: [] } }],
  ["PATH_SOUND_QUIET", "falls-short", annunciator, { load: { level: 84.9 }, listener: { ambient: 20 } }],
  ["PATH_SOUND_MASKED", "falls-short", annunciator, { listener: { ambient: 65.1 } }],
  ["PATH_SOUND_LOUD", "falls-short", annunciator, { load: { level: 118.1 }, listener: { distance: 1 } }],
  ["PATH_SOUND_UNKNOWN", "cannot-tell", annunciator, { listener: { ambient: undefined } }],
  ["PATH_BARRIERS_ASSUMED", "meets", annunciator, { listener: { barriers: undefined, distance: 1 } }],
  [
    "PATH_LOAD_SILENT",
    "cannot-tell",
    annunciator,
    { load: { kind: "relay", current: 0.1, flybackDiode: true } },
  ],
  ["PATH_LIGHT_UNKNOWN", "cannot-tell", annunciator, { load: { kind: "beacon" } }],
  ["PATH_LIGHT_BLOCKED", "falls-short", annunciator, { load: beacon, listener: { barriers: [20] } }],
  ["PATH_LIGHT_DIM", "falls-short", annunciator, { load: beacon, listener: { barriers: [], distance: 101 } }],
  ["PATH_LIGHT_FIGURES", "meets", annunciator, { load: beacon, listener: { barriers: [], distance: 99 } }],
  [
    "PATH_LIGHT_RED",
    "meets",
    annunciator,
    {
      load: { kind: "beacon", light: { ...beacon.light, colour: "red" } },
      listener: { barriers: [], distance: 40 },
    },
  ],
  [
    "PATH_LIGHT_FLASH_RATE",
    "meets",
    annunciator,
    {
      load: { kind: "beacon", light: { ...beacon.light, flashesPerMinute: 60, flashLength: 1 / 60 } },
      listener: { barriers: [], distance: 40 },
    },
  ],
  ["PATH_LIGHT_ASSUMED", "meets", annunciator, { load: beacon, listener: { barriers: [], distance: 40 } }],
  ["PATH_RELAY_UNKNOWN", "cannot-tell", annunciator, { inverter: { relay: undefined } }],
  ["PATH_CONTACT_RATING_UNKNOWN", "cannot-tell", annunciator, { inverter: { relay: {} } }],
  ["PATH_CONTACT_VOLTAGE", "falls-short", annunciator, { loop: { supply: 48, supplyMinimum: 42 } }],
  [
    "PATH_CONTACT_CURRENT",
    "falls-short",
    annunciator,
    { inverter: { relay: { dcRating: { voltage: 30, current: 0.29 } } } },
  ],
  ["PATH_CONTACT_INRUSH", "falls-short", annunciator, { load: { kind: "lamp" } }],
  ["PATH_CONTACT_INDUCTIVE", "falls-short", annunciator, { load: { kind: "relay", current: 0.11 } }],
  ["PATH_FLYBACK_UNKNOWN", "cannot-tell", annunciator, { load: { kind: "relay", current: 0.1 } }],
  ["PATH_FUSE_UNKNOWN", "meets", annunciator, { loop: { fuse: undefined } }],
  ["PATH_FUSE_BELOW_LOAD", "falls-short", annunciator, { loop: { fuse: 0.25 } }],
  ["PATH_FUSE_ABOVE_CONTACT", "falls-short", annunciator, { loop: { fuse: 1.1 } }],
  ["PATH_FUSE_ABOVE_CABLE", "falls-short", annunciator, { loop: { fuse: 6.5 } }],
  ["PATH_INDICATOR_PLACE_UNKNOWN", "cannot-tell", indicator, { inverter: { where: undefined } }],
  [
    "PATH_INDICATOR_HIDDEN",
    "falls-short",
    indicator,
    { inverter: { where: { ...place, accessible: false } } },
  ],
  [
    "PATH_INDICATOR_NOBODY_PASSES",
    "falls-short",
    indicator,
    { inverter: { where: { ...place, passesPerDay: 0 } } },
  ],
  [
    "PATH_INDICATOR_RARELY_PASSED",
    "falls-short",
    indicator,
    { inverter: { where: { ...place, passesPerDay: 0.9 } } },
  ],
  [
    "PATH_INDICATOR_PASSES_UNKNOWN",
    "cannot-tell",
    indicator,
    { inverter: { where: { ...place, passesPerDay: undefined } } },
  ],
  [
    "PATH_INDICATOR_TOO_FAR",
    "falls-short",
    indicator,
    { inverter: { where: { ...place, viewingDistance: 10.1 } } },
  ],
  [
    "PATH_INDICATOR_DISTANCE_UNKNOWN",
    "cannot-tell",
    indicator,
    { inverter: { where: { ...place, viewingDistance: undefined } } },
  ],
  [
    "PATH_INDICATOR_ACCESS_UNKNOWN",
    "meets",
    indicator,
    { inverter: { where: { ...place, accessible: undefined } } },
  ],
];

describe("judgePath", () => {
  it.each(cases)("%s is found and the verdict is %s", (code, verdict, path, spoil) => {
    const assessment = judged(path, spoil);
    expect(assessment.findings.map((finding) => finding.code)).toContain(code);
    expect(assessment.verdict).toBe(verdict);
  });

  it("finds nothing worse than a note on a sound and proved path", () => {
    for (const path of tarn.paths) {
      const { findings, verdict } = judged(path, {});
      expect(verdict).toBe("meets");
      expect(findings.filter((finding) => finding.severity !== "note")).toEqual([]);
    }
  });

  it("gives every finding a source, a tag and words", () => {
    for (const [, , path, spoil] of cases) {
      for (const finding of judged(path, spoil).findings) {
        expect(finding.source).toMatch(/\w/);
        expect(finding.tag).toMatch(/\w/);
        expect(finding.text).toMatch(/\.$/);
      }
    }
  });

  it("says in every finding what is so and then what to do, so that its text stands alone", () => {
    for (const [, , path, spoil] of cases) {
      for (const { text, code } of judged(path, spoil).findings) {
        expect(text, code).toMatch(/\S[.] [A-Z]/u);
        expect(text, code).not.toContain("test-resistor");
      }
    }
  });

  it("has a case for every code of the catalogue, and a catalogue entry for every code found", () => {
    const inCatalogue = PATH_CODES.map((entry) => entry.code).sort();
    expect(cases.map(([code]) => code).sort()).toEqual(inCatalogue);
    const found = new Set(
      cases.flatMap(([, , path, spoil]) => judged(path, spoil).findings.map(({ code }) => code)),
    );
    for (const code of found) expect(inCatalogue).toContain(code);
  });

  it("takes the interrupter of an earthed array for a detector", () => {
    const without = { insulationCheck: undefined, residualMonitor: false };
    const codes = (inverter: object): readonly string[] =>
      judged(message, { inverter }).findings.map(({ code }) => code);
    expect(codes(without)).toContain("PATH_DETECTOR_UNKNOWN");
    expect(codes({ ...without, earthFaultInterrupter: { rating: 1 } })).not.toContain(
      "PATH_DETECTOR_UNKNOWN",
    );
  });

  it("gives a time beyond the 28 days followed as a number, marked, and says that it is longer", () => {
    const where = { ...place, accessible: false };
    const expected = judged(indicator, { inverter: { where } }).findings.find(
      ({ code }) => code === "PATH_NOTICE_EXPECTED",
    )!;
    expect(expected.figures).toMatchObject({ medianNoticeHours: 672, p95NoticeHours: 672, beyondHours: 672 });
    expect(expected.text).toContain("more than 28 days");
    const sound = judged(message, {}).findings.find(({ code }) => code === "PATH_NOTICE_EXPECTED")!;
    expect(sound.figures).not.toHaveProperty("beyondHours");
  });

  it.each([
    [message, ["medianNoticeHours", "p95NoticeHours", "unnoticedAfter24h"]],
    [annunciator, ["loadVoltage", "soundAtListener", "standbyHours"]],
    [indicator, ["medianNoticeHours", "p95NoticeHours", "unnoticedAfter24h"]],
  ])("gives the figures of each signal", (path, names) => {
    const figures = Object.assign(
      {},
      ...judged(path, {}).findings.map((finding) => finding.figures ?? {}),
    ) as object;
    for (const name of names) expect(figures).toHaveProperty(name, expect.any(Number));
  });
});
