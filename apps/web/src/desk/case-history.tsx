import type { Case } from "@earthbell/model";
import { instantWords } from "./instant.ts";
import type { ToldLine } from "./records.ts";

/** Who was told, when and by what. */
export function CaseTold({ told }: { readonly told: readonly ToldLine[] }) {
  return (
    <section className="flow">
      <h2>Who was told</h2>
      {told.length === 0 ? (
        <p className="soft">No message of this case has been handed over yet.</p>
      ) : (
        <ol className="plain history-of-case">
          {told.map(({ person, path, kind, sequence, at, channel }) => (
            <li key={`${path} ${person} ${channel} ${kind} ${sequence}`}>
              <span className="small soft">{instantWords(at)}</span>
              <span>
                {person} by {channel}, path {path}: {kind} message
              </span>
            </li>
          ))}
        </ol>
      )}
    </section>
  );
}

/** Every line of the history, the newest first. Lines are only ever added. */
export function CaseTimeline({ one }: { readonly one: Case }) {
  return (
    <section className="flow">
      <h2>What happened</h2>
      <ol className="plain history-of-case" reversed>
        {one.timeline.toReversed().map(({ at, by, text }, i) => (
          <li key={one.timeline.length - i}>
            <span className="small soft">{instantWords(at)}</span>
            <span>
              {by === null ? null : <strong>{by}: </strong>}
              {text}
            </span>
          </li>
        ))}
      </ol>
    </section>
  );
}
