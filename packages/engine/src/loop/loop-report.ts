import type { AssessmentFinding } from "../assess/assessment.ts";
import type { AnnunciatorPath, Inverter, Site } from "../assess/site.ts";
import { invertersServed } from "../path/context.ts";
import { judgeSignal } from "../path/judge-signal.ts";
import { findingOf } from "../path/judgement.ts";
import { designLoop } from "./design-loop.ts";
import type { LoopDesign } from "./loop-design.ts";
import { operatingPoint } from "./operating-point.ts";

/** The annunciator loop of one path: what is wrong with it as given, and the loop as it should be built. */
export interface PathLoop {
  readonly path: string;
  readonly verdict: "approved" | "repaired" | "left-open" | "not-designed";
  /** Faults and cautions of the loop as given, in order; their numbers are their places in this list, from 1. */
  readonly faults: readonly AssessmentFinding[];
  /** Voltage at the load as given, battery at its end and cable hot [V]; null where a figure is missing. */
  readonly loadVoltageAsGivenV: number | null;
  readonly contactInverter: string | null;
  readonly design: LoopDesign | null;
  /** Fields of the site file without which no loop can be designed. */
  readonly missing: readonly string[];
}

/** The annunciator loops of a site in the format `earthbell.loop/1`. */
export interface LoopReport {
  readonly format: "earthbell.loop/1";
  readonly site: string;
  readonly loops: readonly PathLoop[];
  /** Paths asked for that are no annunciators and so have no loop. */
  readonly withoutLoop: readonly string[];
}

type Rating = NonNullable<NonNullable<Inverter["relay"]>["dcRating"]>;

/** Of several contacts the one that bears least decides. */
function weakestContact(
  inverters: readonly Inverter[],
): { readonly inverter: string; readonly rating: Rating } | null {
  const rated = inverters.flatMap(({ id, relay }) =>
    relay?.dcRating === undefined ? [] : [{ inverter: id, rating: relay.dcRating }],
  );
  if (rated.length < inverters.length || rated.length === 0) return null;
  const current = Math.min(...rated.map(({ rating }) => rating.current)) as Rating["current"];
  const voltage = Math.min(...rated.map(({ rating }) => rating.voltage)) as Rating["voltage"];
  const { inverter } = rated.find(({ rating }) => rating.current === current)!;
  return { inverter, rating: { voltage, current } };
}

function verdictOf(design: LoopDesign): PathLoop["verdict"] {
  if (design.approved) return "approved";
  return design.unsolved.length === 0 ? "repaired" : "left-open";
}

function loopOf(path: AnnunciatorPath, site: Site): PathLoop {
  const inverters = invertersServed(path, { site });
  const contact = weakestContact(inverters);
  const faults = judgeSignal(path, { site })
    .map(findingOf)
    .filter(({ severity }) => severity !== "note");
  const { loop } = path;
  const missing = [
    ...(loop === undefined ? [`paths ${path.id}: loop`] : []),
    ...(contact === null
      ? inverters
          .filter(({ relay }) => relay?.dcRating === undefined)
          .map(({ id }) => `inverters ${id}: relay.dcRating`)
      : []),
    ...(inverters.length === 0 ? [`paths ${path.id}: arrays with an inverter of this site`] : []),
  ];
  const design =
    loop === undefined || contact === null ? null : designLoop({ loop, contact: contact.rating });
  return {
    path: path.id,
    verdict: design === null ? "not-designed" : verdictOf(design),
    faults,
    loadVoltageAsGivenV: loop === undefined ? null : (operatingPoint(loop, null)?.loadV ?? null),
    contactInverter: contact?.inverter ?? null,
    design,
    missing,
  };
}

/**
 * The annunciator loop of each path that has one, judged as given and approved or repaired.
 *
 * @param pathId  this path only; without it every annunciator path
 * Check: see designLoop
 */
export function loopReport(site: Site, pathId?: string): LoopReport {
  const asked = site.paths.filter(({ id }) => pathId === undefined || id === pathId);
  return {
    format: "earthbell.loop/1",
    site: site.id,
    loops: asked.flatMap((path) => (path.signal === "annunciator" ? [loopOf(path, site)] : [])),
    withoutLoop: asked.filter(({ signal }) => signal !== "annunciator").map(({ id }) => id),
  };
}
