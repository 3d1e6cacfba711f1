import { chainOfPath, drawChain, type Site } from "@earthbell/engine";
import { Drawn } from "../drawing/drawing.tsx";
import { useAnswer } from "../engine/use-answer.ts";
import { useDeskRules } from "../rules/desk-rules.ts";
import { Awaited } from "./awaited.tsx";
import { Findings } from "./findings.tsx";

/** Each path drawn from the array to the person, with what was found about it. */
export default function PathView({ site, onDate }: { readonly site: Site; readonly onDate: string }) {
  const assessed = useAnswer("assess", [site, onDate, useDeskRules()]);
  return (
    <Awaited answer={assessed}>
      {({ paths, owner }) => (
        <>
          {paths.length === 0 ? (
            <p>No path is recorded: nobody would be told of a fault by any way that the file states.</p>
          ) : null}
          {paths.map((judged) => {
            const chain = chainOfPath(site.paths.find(({ id }) => id === judged.path)!, site, judged);
            return (
              <section key={judged.path} className="flow">
                <h2>{chain.title}</h2>
                <Drawn draw={(width) => drawChain({ ...chain, width })} />
                <Findings findings={judged.findings} />
              </section>
            );
          })}
          <section className="flow">
            <h2>The owner</h2>
            <Findings findings={owner.findings} />
            {owner.findings.length === 0 ? (
              <p>
                {owner.informed === true
                  ? "Told in writing, as recorded."
                  : "What the owner was told is not recorded."}
              </p>
            ) : null}
          </section>
        </>
      )}
    </Awaited>
  );
}
