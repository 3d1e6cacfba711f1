import { describeReading } from "./describe-reading.ts";
import type { Finding } from "./finding.ts";
import { benchOf } from "./instruments.ts";
import { posteriorOf, type Posterior } from "./posterior.ts";
import { problemOf, type Problem } from "./problem.ts";
import { withoutOutvoted } from "./repeats.ts";
import type { Visit } from "./visit.ts";

/** Why a finding says what it says, in figures a person can check with a pocket calculator. */
export interface Explanation {
  /** The readings that carried it, weightiest first, with the information about the place that is lost without each. */
  readonly carried: readonly { readonly reading: number; readonly what: string; readonly bits: number }[];
  /** The trade's proportional rule beside ours, and why they differ. */
  readonly handRule: readonly {
    readonly string: string;
    readonly handAt: number | null;
    readonly ourAt: number | null;
    readonly why: string;
  }[];
  /** Share of the leak that is healthy leakage and not the fault, 0…1; null without a fault. */
  readonly healthyShare: number | null;
  /** What the finding could not exclude. */
  readonly notExcluded: readonly string[];
}

const CARRIERS = 3;
/** No place is ruled out further than this when what a reading told is counted: one in ten thousand. */
const NEVER_RULED_OUT = 1e-4;
/** Hypotheses below this are not worth a sentence. */
const WORTH_SAYING = 0.005;

/** Explains a finding of `locate` on the same visit. Costs one more inference per reading. */
export function explain(visit: Visit, finding: Finding): Explanation {
  const bench = benchOf(visit);
  const kept = withoutOutvoted(visit, bench).visit;
  const problem = problemOf(kept, bench);
  const posterior = posteriorOf(problem);
  const healthyShare = finding.faultResistance === null ? null : healthyShareOf(problem, posterior);
  return {
    carried: finding.faultResistance === null ? [] : carriersOf(kept, problem, posterior),
    handRule: finding.handRule.map((rule) => {
      const ourAt = finding.places.find((place) => place.string === rule.string)?.at ?? null;
      return {
        string: rule.string,
        handAt: rule.at,
        ourAt,
        why: differenceOf(problem, rule.string, rule.at, ourAt, healthyShare),
      };
    }),
    healthyShare,
    notExcluded: notExcludedBy(finding),
  };
}

/** Information lost about the place (Kullback–Leibler, bits) when a reading is left out. */
function carriersOf(visit: Visit, problem: Problem, posterior: Posterior): Explanation["carried"] {
  return visit.readings
    .map((reading, index) => {
      const rest = { ...visit, readings: visit.readings.filter((_, i) => i !== index) };
      const without = posteriorOf(problemOf(rest, problem.bench)).places;
      let bits = 0;
      posterior.places.forEach((p, i) => {
        if (p > 1e-12) bits += p * Math.log2(p / Math.max(without[i]!, NEVER_RULED_OUT));
      });
      return { reading: index, what: describeReading(reading), bits };
    })
    .sort((a, b) => b.bits - a.bits)
    .slice(0, CARRIERS);
}

function healthyShareOf(problem: Problem, posterior: Posterior): number | null {
  const modules = problem.measured[0]?.configuration.moduleCount ?? 0;
  let sum = 0;
  let mass = 0;
  const top = Math.max(...posterior.classes.flatMap(({ nodes }) => nodes.map((node) => node.lnMass)));
  for (const { nodes } of posterior.classes)
    for (const node of nodes) {
      const weight = Math.exp(node.lnMass - top);
      const healthy = node.g * modules;
      sum += (weight * healthy) / (healthy + node.fault);
      mass += weight;
    }
  return mass > 0 ? sum / mass : null;
}

function differenceOf(
  problem: Problem,
  string: string,
  handAt: number | null,
  ourAt: number | null,
  healthyShare: number | null,
): string {
  if (handAt === null || ourAt === null) return "one of the two names no place";
  const modules = problem.visit.strings.find((spec) => spec.id === string)?.modules ?? 0;
  const gap = ourAt - handAt;
  if (Math.abs(gap) < 0.17) return "they agree: the fault is nearly all of the leak";
  if (healthyShare === null || healthyShare < 0.01)
    return "healthy leakage is too small to explain the gap: the rule's place falls between possible places, or on a weighted centre of two faults";
  const percent = (100 * healthyShare).toFixed(healthyShare < 0.1 ? 1 : 0);
  return `healthy leakage carries about ${percent} % of the leak and draws the rule towards mid-string (${(modules / 2).toFixed(1)}), by ${Math.abs(gap).toFixed(1)} modules here`;
}

function notExcludedBy(finding: Finding): string[] {
  const lines: string[] = [];
  const rest = finding.credible.places
    .slice(1)
    .map(({ string, at }) => `${string} at ${at.toFixed(at % 1 === 0 ? 0 : 2)}`);
  if (rest.length > 0)
    lines.push(
      `other places that the 90 % set still holds: ${rest.slice(0, 6).join(", ")}${rest.length > 6 ? ` and ${String(rest.length - 6)} more` : ""}`,
    );
  for (const { what, probability } of finding.hypotheses.slice(1))
    if (probability > WORTH_SAYING) lines.push(`${what}: ${(100 * probability).toFixed(1)} %`);
  if (finding.places[0]?.what === "home-run")
    lines.push(
      "end connector or the cable behind it: they share one potential; opening the end connector tells them apart",
    );
  return lines;
}
