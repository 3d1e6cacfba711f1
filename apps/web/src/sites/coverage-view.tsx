import { drawCoverageGrid, formatQuantity, type Ohms, type Site, type SiteCoverage } from "@earthbell/engine";
import { Drawn } from "../drawing/drawing.tsx";
import { useAnswer } from "../engine/use-answer.ts";
import { SourceNote } from "../page/source-note.tsx";
import { useDeskRules } from "../rules/desk-rules.ts";
import { Awaited } from "./awaited.tsx";

const PHASES = [
  { phase: "running", born: "born while the inverter runs" },
  { phase: "night", born: "born in the dark" },
] as const;

/** Which faults the detectors of each array see, and which nothing sees. */
export default function CoverageView({ site }: { readonly site: Site }) {
  const report = useAnswer("coverage", [site, useDeskRules()]);
  return (
    <Awaited answer={report}>
      {({ arrays }) => arrays.map((one) => <ArrayCoverage key={one.array} coverage={one} />)}
    </Awaited>
  );
}

const percent = (share: number): string => `${Math.round(100 * share)} %`;

function ArrayCoverage({
  coverage: { array, map, detectors, healthy, missing, assumed },
}: {
  readonly coverage: SiteCoverage;
}) {
  return (
    <section className="flow">
      <h2>Array {array}</h2>
      <p>
        {detectors.length === 0
          ? "No detector is stated: the map takes those that a site file does not name for absent."
          : `Watched by ${detectors.join(", ")}.`}
      </p>
      {map === null
        ? null
        : PHASES.map(({ phase, born }) => (
            <div key={phase} className="flow">
              <h3>Faults {born}</h3>
              <p className="soft">
                {percent(map.shares[phase]["at-once"])} seen at once,{" "}
                {percent(map.shares[phase]["next-start"])} at the next start,{" "}
                {percent(map.shares[phase].never)} by nothing.
              </p>
              <Drawn
                most={672}
                draw={(width) =>
                  drawCoverageGrid({ title: `Array ${array}, faults ${born}`, map, phase, width })
                }
              />
            </div>
          ))}
      {missing.length === 0 ? null : (
        <p>Stated in the site file, this would be known better: {missing.join("; ")}.</p>
      )}
      <Healthy healthy={healthy} />
      <ul className="plain index">
        {assumed.map(({ text, source, tag }) => (
          <li key={text} className="noted">
            <p className="soft">Taken for granted: {text}</p>
            <SourceNote source={source} tag={tag} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function Healthy({ healthy }: Pick<SiteCoverage, "healthy">) {
  if (healthy === null) return null;
  return (
    <p>
      Healthy and wet it may show{" "}
      {formatQuantity(healthy.floorOhms as Ohms, "resistance", { significant: 3 })},{" "}
      {healthy.marginToThreshold.toFixed(1)} times what alarms; a false alarm is{" "}
      {healthy.falseAlarm.replaceAll("-", " ")}.
    </p>
  );
}
