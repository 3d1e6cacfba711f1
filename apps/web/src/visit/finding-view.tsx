import { drawStrip, type Finding, formatQuantity, type Ohms, type Step, type Visit } from "@earthbell/engine";
import { useState } from "react";
import { Drawn } from "../drawing/drawing.tsx";
import { type Answer, useAnswer } from "../engine/use-answer.ts";
import { State, type StateName } from "../page/state.tsx";
import { nodesOf } from "./reading-field.ts";

const VERDICTS: Readonly<Record<Finding["verdict"], readonly [StateName, string]>> = {
  located: ["fault", "Located"],
  narrowed: ["unsure", "Narrowed"],
  "cannot-tell": ["unsure", "Cannot tell"],
  "no-fault": ["proven", "No fault found"],
  "more-than-one": ["fault", "More than one damaged place"],
  inconsistent: ["must", "Read again"],
};

const percent = (share: number): string =>
  `${share >= 0.995 ? "> 99" : (100 * share).toFixed(share < 0.1 ? 1 : 0)} %`;
const ohms = (value: number): string => formatQuantity(value as Ohms, "resistance", { significant: 3 });

/** The place is named once, before it; a paper names it with its reason. */
function becauseWords({ because, places: [top] }: Finding): string {
  const named = `${top?.label ?? ""}: `;
  const words = because.startsWith(named) ? because.slice(named.length) : because;
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}

/** A finding in one line, as it goes on record. */
export function verdictWords({ verdict, places: [top], because }: Finding): string {
  const place =
    top !== undefined && (verdict === "located" || verdict === "narrowed")
      ? ` ${top.label}, ${percent(top.probability)}.`
      : "";
  return `${VERDICTS[verdict][1]}.${place} ${because}`;
}

export function Verdict({ finding }: { readonly finding: Finding }) {
  const [state, word] = VERDICTS[finding.verdict];
  const [top] = finding.places;
  return (
    <div className="verdict flow">
      <p className="lead">
        <State state={state} word={word} />{" "}
        {top !== undefined && (finding.verdict === "located" || finding.verdict === "narrowed") ? (
          <>
            {top.label}, <span className="figure">{percent(top.probability)}</span>
          </>
        ) : null}
      </p>
      <p>{becauseWords(finding)}</p>
    </div>
  );
}

interface StripsProps {
  readonly visit: Visit;
  readonly finding: Finding;
  readonly step: Step | null;
  readonly part: "all" | "likeliest" | "others";
}

const SHOWN_STRINGS = 3;
const PARTS = { all: [0, SHOWN_STRINGS], likeliest: [0, 1], others: [1, SHOWN_STRINGS] } as const;

/** The strings that hold most of the probability, the likeliest first; or only that, or only the others. */
export function Strips({ visit, finding, step, part }: StripsProps) {
  const mass = (id: string): number =>
    finding.places
      .filter(({ string }) => string === id)
      .reduce((sum, { probability }) => sum + probability, 0);
  const shown = visit.strings.toSorted((a, b) => mass(b.id) - mass(a.id)).slice(...PARTS[part]);
  const rest = part === "likeliest" ? 0 : Math.max(0, visit.strings.length - SHOWN_STRINGS);
  if (shown.length === 0) return null;
  return (
    <div className="flow">
      {shown.map(({ id, modules }) => (
        <div key={id}>
          <h3>
            {id}{" "}
            <span className="soft figure">
              {modules} modules, {percent(mass(id))} likely here
            </span>
          </h3>
          <Drawn
            draw={(width) =>
              drawStrip({
                id,
                modules,
                width,
                places: finding.places.filter(({ string }) => string === id),
                leads: visit.readings.flatMap((reading, index) =>
                  reading.on === id ? nodesOf(reading, modules).map((at) => ({ at, number: index + 1 })) : [],
                ),
                proposed: proposedOn(id, modules, step),
                handAt: finding.handRule.find(({ string }) => string === id)?.at ?? null,
              })
            }
          />
        </div>
      ))}
      {rest > 0 ? (
        <p className="soft">
          {rest} more {rest === 1 ? "string" : "strings"}, each less likely.
        </p>
      ) : null}
    </div>
  );
}

function proposedOn(id: string, modules: number, step: Step | null): readonly number[] {
  if (step === null) return [];
  const nodes = step.readings.filter(({ on }) => on === id).flatMap((reading) => nodesOf(reading, modules));
  const opened = step.at !== undefined && step.string === id ? [step.at] : [];
  return opened.length > 0 ? opened : [...new Set(nodes)];
}

/** Figures behind the verdict, each with its uncertainty beside it. */
export function Figures({ finding }: { readonly finding: Finding }) {
  const { insulation, faultResistance: fault, hypotheses, handRule, suspect, warnings } = finding;
  const measured = [
    ...insulation.map(({ string, ohms: value, ...range }) => ({
      what: `Insulation of ${string}`,
      value,
      ...range,
    })),
    ...(fault === null
      ? []
      : [{ what: "Resistance of the fault", value: fault.ohms, low: fault.low, high: fault.high }]),
  ];
  return (
    <div className="flow">
      <table>
        <tbody>
          {measured.map(({ what, value, low, high }) => (
            <tr key={what}>
              <th scope="row">{what}</th>
              <td className="number">
                <span className="figure">{ohms(value)}</span>
              </td>
              <td className="number soft">
                <span className="figure">{ohms(low)} –</span> <span className="figure">{ohms(high)}</span>
              </td>
            </tr>
          ))}
          {hypotheses.map(({ what, probability }) => (
            <tr key={what}>
              <th scope="row">Probability of {what}</th>
              <td className="number">
                <span className="figure">{percent(probability)}</span>
              </td>
              <td />
            </tr>
          ))}
          {handRule.map(({ string, at, why }) => (
            <tr key={string}>
              <th scope="row">Proportional rule on {string}</th>
              <td className="number">{at === null ? "–" : at.toFixed(1)}</td>
              <td className="soft small">{why}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {suspect.map(({ reading, blunder, settle }) => (
        <p key={reading}>
          <State state="must" word={`Reading ${reading + 1}`} /> {blunder}. {settle}.
        </p>
      ))}
      <Granted warnings={warnings} />
    </div>
  );
}

function Granted({ warnings }: { readonly warnings: readonly string[] }) {
  if (warnings.length === 0) return null;
  return (
    <details>
      <summary>Taken for granted, {warnings.length}</summary>
      <ul>
        {warnings.map((warning) => (
          <li key={warning}>{warning}</li>
        ))}
      </ul>
    </details>
  );
}

/** Why the finding says so: costs one more calculation a reading, so it is made when asked for. */
export function Why({ visit, finding }: { readonly visit: Visit; readonly finding: Finding }) {
  const [asked, setAsked] = useState(false);
  const explained = useAnswer("explain", asked ? [visit, finding] : null);
  return (
    <details
      onToggle={(event) => {
        setAsked(event.currentTarget.open);
      }}
    >
      <summary>Why</summary>
      {asked ? <Because explained={explained} /> : null}
    </details>
  );
}

type Explained = Answer<ReturnType<typeof import("@earthbell/engine").explain>>;

function Because({ explained: { value, failed } }: { readonly explained: Explained }) {
  if (failed !== null) return <p className="wrong">{failed}</p>;
  if (value === null) return <p className="soft">Calculating…</p>;
  const { carried, handRule, notExcluded } = value;
  return (
    <div className="flow">
      {carried.length === 0 ? null : (
        <>
          <h3>Readings that carry it</h3>
          <ol>
            {carried.map(({ reading, what, bits }) => (
              <li key={reading}>
                Reading {reading + 1}, {what}: <span className="figure">{bits.toFixed(2)} bit</span> would be
                lost without it
              </li>
            ))}
          </ol>
        </>
      )}
      {handRule.map(({ string, handAt, ourAt, why }) => (
        <p key={string}>
          Beside the proportional rule on {string} ({handAt?.toFixed(1) ?? "no place"} against{" "}
          {ourAt?.toFixed(1) ?? "no place"}): {why}.
        </p>
      ))}
      {notExcluded.length === 0 ? null : (
        <>
          <h3>Not excluded</h3>
          <ul>
            {notExcluded.map((one) => (
              <li key={one}>{one}</li>
            ))}
          </ul>
        </>
      )}
    </div>
  );
}
