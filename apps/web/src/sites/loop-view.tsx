import type { PathLoop, Site } from "@earthbell/engine";
import { Schematic } from "../drawing/schematic.tsx";
import { useAnswer } from "../engine/use-answer.ts";
import { State, type StateName } from "../page/state.tsx";
import { Awaited } from "./awaited.tsx";
import { Findings } from "./findings.tsx";

const VERDICTS: Readonly<Record<PathLoop["verdict"], readonly [StateName, string]>> = {
  approved: ["proven", "Approved as given"],
  repaired: ["must", "Approved with the changes below"],
  "left-open": ["fault", "No change of parts mends all of it"],
  "not-designed": ["unsure", "Not enough is stated to design it"],
};

/** The wiring of each sounder or beacon: as given, as it should be, and its parts by rating. */
export default function LoopView({ site }: { readonly site: Site }) {
  const answer = useAnswer("loop", [site]);
  return (
    <Awaited answer={answer}>
      {({ report, drawings }) =>
        report.loops.length === 0 ? (
          <p>No path of this site is an annunciator, so there is no loop to judge.</p>
        ) : (
          report.loops.map((loop, index) => (
            <Loop key={loop.path} loop={loop} svg={drawings[index] ?? null} />
          ))
        )
      }
    </Awaited>
  );
}

function Loop({ loop, svg }: { readonly loop: PathLoop; readonly svg: string | null }) {
  const [state, word] = VERDICTS[loop.verdict];
  return (
    <section className="flow">
      <h2>Loop of path {loop.path}</h2>
      <p className="lead">
        <State state={state} word={word} />
      </p>
      {svg === null ? null : <Schematic svg={svg} title={`Schematic of the loop of path ${loop.path}`} />}
      {loop.design === null ? null : (
        <>
          <details>
            <summary>The notes of the drawing as text</summary>
            <ol>
              {loop.design.changes.map(({ part, from, to, why }) => (
                <li key={part}>
                  {part}: {from} → {to}. {why}
                </li>
              ))}
              {loop.design.unsolved.map((text) => (
                <li key={text}>Left open: {text}</li>
              ))}
            </ol>
          </details>
          <h3>Parts by rating</h3>
          <table>
            <tbody>
              {loop.design.parts.map(({ quantity, item, rating }) => (
                <tr key={item + rating}>
                  <td className="number">{quantity}</td>
                  <th scope="row">{item}</th>
                  <td>{rating}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
      {loop.missing.length === 0 ? null : <p>Missing in the site file: {loop.missing.join("; ")}.</p>}
      <h3>As given</h3>
      <Findings findings={loop.faults} />
    </section>
  );
}
