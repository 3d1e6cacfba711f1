import {
  type AdviceAnswers,
  advise,
  assessSite,
  coverageReport,
  drawLoop,
  drawScenario,
  drawTruth,
  explain,
  type Finding,
  firstRequests,
  locate,
  loopReport,
  measure,
  packsInForce,
  type Reading,
  type RequestedReading,
  type ScenarioFault,
  scenarioOf,
  seededRandom,
  type SimulatedKind,
  type Site,
  siteNotice,
  type Truth,
  adviceSite,
  type Visit,
  visitOf,
} from "@earthbell/engine";
import { readAdvice, readSite, readVisit, siteText, type VisitOnFile, visitText } from "@earthbell/model";
import type { DeskRules } from "../rules/desk-rules.ts";
import { COMMISSIONING_JOBS } from "./commissioning-jobs.ts";

/** Onsets of every n-th day: within 0.006 in probability of every second day, in a fraction of the time. */
const EVERY_DAYS = 8;
const SEED_LIMIT = 2 ** 31;

/** A practice array, made again from its kind and seed for each job: the worker keeps nothing. */
export interface Practice {
  readonly kind: SimulatedKind;
  readonly seed: number;
}

function practised({ kind, seed }: Practice) {
  const random = seededRandom(seed);
  const drawn = drawScenario(kind, random);
  return { drawn, truth: drawTruth(drawn.scenario, random) };
}

function practiceVisit(practice: Practice): Visit {
  return visitOf(practised(practice).drawn.scenario, []);
}

/** Errors of later readings are drawn anew, and the same request at the same place in the visit is answered alike. */
function measured(
  practice: Practice,
  requests: readonly RequestedReading[],
  taken: number,
): readonly Reading[] {
  return answersOf(practised(practice).truth, practice.seed, requests, taken);
}

function answersOf(
  truth: Truth,
  seed: number,
  requests: readonly RequestedReading[],
  taken: number,
): readonly Reading[] {
  const random = seededRandom((seed * 7919 + 104_729 * (taken + 1)) % SEED_LIMIT);
  return requests.map((request) => measure(truth, request, random));
}

/** What a stand-in meter reads on an invented array with the wiring of this visit; the same damage gives the same array. */
function standIn(
  visit: Visit,
  damage: { readonly string: string; readonly at: number; readonly ohms: number },
  requests: readonly RequestedReading[],
  taken: number,
): readonly Reading[] {
  const seed = Math.round(damage.ohms) + 31 * Math.round(damage.at);
  const truth = drawTruth(scenarioOf(visit, [damage]), seededRandom(seed));
  return answersOf(truth, seed, requests, taken);
}

function advised(answers: AdviceAnswers, { own, overrides }: DeskRules) {
  const advice = advise(answers, packsInForce(own, overrides));
  const site = adviceSite(answers, advice.plans[0]?.signals ?? []);
  return { advice, siteFile: site === null ? null : siteText(site) };
}

/** Everything that is calculated or read, off the page's own thread. Each answers from its arguments alone. */
export const JOBS = {
  ...COMMISSIONING_JOBS,
  find: (visit: Visit): Finding => locate(visit),
  explain: (visit: Visit, finding: Finding) => explain(visit, finding),
  readVisit: (text: string, file: string) => readVisit(text, file),
  writeVisit: (visit: VisitOnFile, notes: readonly string[]) => visitText(visit, notes),
  readSite: (text: string, file: string) => readSite(text, file),
  assess: (site: Site, onDate: string, rules: DeskRules) =>
    assessSite(site, { onDate, packs: packsInForce(rules.own, rules.overrides) }),
  coverage: (site: Site, rules: DeskRules) =>
    coverageReport(site, undefined, packsInForce(rules.own, rules.overrides)),
  notice: (site: Site, onDate: string) => siteNotice(site, { onDate }, { everyDays: EVERY_DAYS }),
  loop: (site: Site) => {
    const report = loopReport(site);
    const drawings = report.loops.map(({ design }) => (design === null ? null : drawLoop(design)));
    return { report, drawings };
  },
  advise: (text: string, rules: DeskRules) => {
    const read = readAdvice(text, "the answers");
    return read.ok ? { ok: true as const, ...advised(read.record, rules) } : read;
  },
  standIn,
  practiceVisit,
  practiceFirst: (practice: Practice) => firstRequests(practised(practice).drawn.on),
  practiceMeasure: measured,
  practiceTruth: (practice: Practice): readonly ScenarioFault[] => practised(practice).drawn.scenario.faults,
};

export type Jobs = typeof JOBS;
