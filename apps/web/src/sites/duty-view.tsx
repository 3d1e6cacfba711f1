import { type ArrayAssessment, formatQuantity, type Ohms, type Site } from "@earthbell/engine";
import { Link } from "../address/link.tsx";
import { useAnswer } from "../engine/use-answer.ts";
import { SourceNote } from "../page/source-note.tsx";
import { State } from "../page/state.tsx";
import { Awaited } from "./awaited.tsx";
import { Findings } from "./findings.tsx";

const ALARM = {
  required: ["must", "An alarm is required"],
  "not-required": ["proven", "No alarm is required"],
  undecided: ["unsure", "Whether an alarm is required is undecided"],
} as const;

const ohms = (value: number): string => formatQuantity(value as Ohms, "resistance", { significant: 3 });

/** What the rules ask of each array, by which row of which pack, and the limits that go with it. */
export default function DutyView({ site, onDate }: { readonly site: Site; readonly onDate: string }) {
  const assessed = useAnswer("assess", [site, onDate]);
  return (
    <Awaited answer={assessed}>
      {({ arrays }) => arrays.map((array) => <ArrayDuty key={array.array} array={array} />)}
    </Awaited>
  );
}

export function ArrayDuty({ array }: { readonly array: ArrayAssessment }) {
  const { duty, findings } = array;
  return (
    <section className="flow">
      <h2>Array {array.array}</h2>
      <p className="lead">
        <State state={ALARM[duty.alarm][0]} word={ALARM[duty.alarm][1]} />
      </p>
      <ul className="plain index">
        {duty.reasons.map((reason) => (
          <li key={reason.text} className="noted">
            <p>{reason.text}</p>
            <SourceNote source={reason.source} tag={reason.tag} />
          </li>
        ))}
      </ul>
      {duty.rulePack === null ? null : (
        <p>
          By <Link to={`/rules/${duty.rulePack}`}>{duty.rulePack}</Link>
          {duty.row === null ? "" : `, row ${duty.row}`}.
        </p>
      )}
      {duty.missing.length === 0 ? null : <p>It would be settled by: {duty.missing.join("; ")}.</p>}
      <Limits array={array} />
      <Findings findings={findings} />
    </section>
  );
}

function Limits({ array }: { readonly array: ArrayAssessment }) {
  const { maxVoltage, insulationThreshold, insulationTest, residualLimit, healthyFloor, proofResistor } =
    array;
  return (
    <ul className="plain index">
      {maxVoltage === null ? null : (
        <li className="noted">
          <p>
            Highest voltage <span className="figure">{maxVoltage.volts.toFixed(0)} V</span> at{" "}
            {maxVoltage.temperatureC} °C
          </p>
          {maxVoltage.source === undefined || maxVoltage.tag === undefined ? null : (
            <SourceNote source={maxVoltage.source} tag={maxVoltage.tag} />
          )}
        </li>
      )}
      {insulationThreshold === null ? null : (
        <li className="noted">
          <p>
            Insulation below <span className="figure">{ohms(insulationThreshold.ohms)}</span> is a fault
          </p>
          <SourceNote {...insulationThreshold} />
        </li>
      )}
      {insulationTest === null ? null : (
        <li className="noted">
          <p>
            Tested at <span className="figure">{insulationTest.testVoltage} V</span>, at least{" "}
            <span className="figure">{ohms(insulationTest.minimumOhms)}</span>
          </p>
          <SourceNote {...insulationTest} />
        </li>
      )}
      {residualLimit === null ? null : (
        <li className="noted">
          <p>
            Continuous residual current above{" "}
            <span className="figure">{residualLimit.continuousMilliamps} mA</span> disconnects
          </p>
          <SourceNote {...residualLimit} />
        </li>
      )}
      {healthyFloor === null ? null : (
        <li className="noted">
          <p>
            Healthy and wet it may show as little as <span className="figure">{ohms(healthyFloor.ohms)}</span>
          </p>
          <SourceNote {...healthyFloor} />
        </li>
      )}
      {proofResistor === null ? null : (
        <li className="noted">
          <p>
            Test resistor of at most <span className="figure">{ohms(proofResistor.atMostOhms)}</span>:{" "}
            {proofResistor.permitted ? (
              <>
                <span className="figure">{proofResistor.elements}</span> in series of{" "}
                <span className="figure">
                  {ohms(proofResistor.series.ohmsEach)}, {proofResistor.series.wattsEach} W
                </span>{" "}
                each
              </>
            ) : (
              "it must not be connected, its current would exceed the residual-current limit"
            )}
          </p>
          <p className="note">{proofResistor.warnings.join(" ")}</p>
        </li>
      )}
    </ul>
  );
}
