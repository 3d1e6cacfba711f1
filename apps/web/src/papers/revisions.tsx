import { FileLink } from "./file-link.tsx";
import type { PaperFile, PaperLine, PaperRevision } from "./paper-records.ts";
import { VerdictMark } from "./verdict-mark.tsx";

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
        {files.map((file, i) => (
          <span key={file.name}>
            {i === 0 ? "" : ", "}
            <SignedFile {...file} />
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

/** A file to take away, with its signature and what that says. */
function SignedFile({ name, signature }: PaperFile) {
  const signed = signature !== null && signature !== "unsigned" && signature !== "missing";
  return (
    <>
      <FileLink name={name} signed={signed} />
      {signature === null ? null : (
        <>
          {" "}
          <VerdictMark verdict={signature} />
        </>
      )}
    </>
  );
}
