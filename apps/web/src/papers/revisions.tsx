import type { PaperLine, PaperRevision } from "./paper-records.ts";

/** Every revision of a paper, the newest first: when, by whom, what changed, and its files. */
export function Revisions({ paper }: { readonly paper: PaperLine }) {
  if (paper.revisions.length === 0) return <p className="soft">Never issued.</p>;
  return (
    <ol className="plain index">
      {paper.revisions.toReversed().map((revision) => (
        <li key={revision.revision}>
          <Revision {...revision} />
        </li>
      ))}
    </ol>
  );
}

function Revision({ revision, date, by, changed, changes, files }: PaperRevision) {
  return (
    <>
      <p>
        Revision {revision}, {date}
        {by === null ? "" : `, by ${by}`}:{" "}
        {files.map(({ name }, i) => (
          <span key={name}>
            {i === 0 ? "" : ", "}
            <a href={`/api/papers/files/${encodeURIComponent(name)}`} download={name}>
              {name.slice(name.lastIndexOf(".") + 1).toUpperCase()}
            </a>
          </span>
        ))}
      </p>
      {changed === 0 ? null : (
        <details className="small">
          <summary>{changed === 1 ? "One thing changed" : `${changed} things changed`}</summary>
          <ul>
            {changes.map(({ what, before, now }) => (
              <li key={what}>
                {what}
                {before === null && now === null ? null : (
                  <>
                    : {before ?? "—"} → {now ?? "—"}
                  </>
                )}
              </li>
            ))}
            {changed > changes.length ? <li>and {changed - changes.length} more</li> : null}
          </ul>
        </details>
      )}
    </>
  );
}
