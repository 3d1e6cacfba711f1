import {
  type ArrayAssessment,
  formatQuantity,
  type Ohms,
  type Provenance,
  type Site,
} from "@earthbell/engine";
import { Link } from "../address/link.tsx";
import { useAnswer } from "../engine/use-answer.ts";
import { SourceNote } from "../page/source-note.tsx";
import { State } from "../page/state.tsx";
import { useDeskRules } from "../rules/desk-rules.ts";
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
  const assessed = useAnswer("assess", [site, onDate, useDeskRules()]);
  return (
    <Awaited answer={assessed}>
      {({ arrays }) => arrays.map((array) => <ArrayDuty key={array.array} array={array} />)}
    </Awaited>
  );
}

function ArrayDuty({ array }: { readonly array: ArrayAssessment }) {
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

interface Limit extends Provenance {
  readonly before: string;
  readonly figure: string;
  readonly after: string;
}

/** Those that could be worked out, each as a sentence around its figure. */
function limitsOf(array: ArrayAssessment): readonly Limit[] {
  const { maxVoltage, insulationThreshold, insulationTest, residualLimit, healthyFloor } = array;
  const highest =
    maxVoltage === null ? null : { source: "the site file", tag: "user" as const, ...maxVoltage };
  return [
    highest && {
      ...highest,
      before: "Highest voltage",
      figure: `${highest.volts.toFixed(0)} V`,
      after: `at ${highest.temperatureC} °C`,
    },
    insulationThreshold && {
      ...insulationThreshold,
      before: "Insulation below",
      figure: ohms(insulationThreshold.ohms),
      after: "is a fault",
    },
    insulationTest && {
      ...insulationTest,
      before: "Tested at",
      figure: `${insulationTest.testVoltage} V`,
      after: `, at least ${ohms(insulationTest.minimumOhms)}`,
    },
    residualLimit && {
      ...residualLimit,
      before: "Continuous residual current above",
      figure: `${residualLimit.continuousMilliamps} mA`,
      after: "disconnects",
    },
    healthyFloor && {
      ...healthyFloor,
      before: "Healthy and wet it may show as little as",
      figure: ohms(healthyFloor.ohms),
      after: "",
    },
  ].filter((limit) => limit !== null);
}

function Limits({ array }: { readonly array: ArrayAssessment }) {
  return (
    <ul className="plain index">
      {limitsOf(array).map(({ before, figure, after, source, tag }) => (
        <li key={before} className="noted">
          <p>
            {before} <span className="figure">{figure}</span>
            {after.startsWith(",") ? after : ` ${after}`}
          </p>
          <SourceNote source={source} tag={tag} />
        </li>
      ))}
      <ProofResistor resistor={array.proofResistor} />
    </ul>
  );
}

/** Its figures invite to connect it, so what may kill then stands before them. */
function ProofResistor({ resistor }: { readonly resistor: ArrayAssessment["proofResistor"] }) {
  if (resistor === null) return null;
  const { atMostOhms, permitted, elements, series, warnings } = resistor;
  return (
    <li className="flow">
      <p>
        <State state="must" word="Read before any test with a resistor" />
      </p>
      <ul>
        {warnings.map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
      <p>
        Test resistor of at most <span className="figure">{ohms(atMostOhms)}</span>:{" "}
        {permitted
          ? `${elements} in series of ${ohms(series.ohmsEach)}, ${series.wattsEach} W each`
          : "it must not be connected, its current would exceed the residual-current limit"}
      </p>
    </li>
  );
}
