import { useId } from "react";
import { tellDesk } from "../desk/ask-desk.ts";
import { FaultText } from "../desk/fault-text.tsx";
import { useStep } from "../desk/use-step.ts";

interface Verdict {
  readonly issued: {
    readonly name: string;
    readonly number: string;
    readonly revision: number;
    readonly date: string;
    readonly by: string | null;
    readonly newest: number;
  } | null;
}

/** Whether a file that somebody holds is one that this desk issued, to the byte, and whether there is a newer one. */
export function VerifyFile() {
  const id = useId();
  const { busy, fault, said, take } = useStep();
  const check = (file: File | undefined): void => {
    if (file === undefined) return;
    take(async () => {
      const body = new Blob([await file.arrayBuffer()], { type: "application/octet-stream" });
      return verdictWords(file.name, await tellDesk<Verdict>("/api/papers/verify", body));
    });
  };
  return (
    <section className="flow">
      <h2>Is this file one of ours?</h2>
      <p>
        Its bytes are compared with those of every paper that this desk issued. Its name does not matter. A
        signature beside it (FILE.sig) is checked with <code>earthbell verify</code>.
      </p>
      <div className="field">
        <label htmlFor={id}>A file to check</label>
        <input
          id={id}
          type="file"
          disabled={busy}
          onChange={(event) => {
            check(event.currentTarget.files?.[0]);
            event.currentTarget.value = "";
          }}
        />
      </div>
      <FaultText fault={fault} />
      {said === null ? null : <p>{said}</p>}
    </section>
  );
}

function verdictWords(file: string, { issued }: Verdict): string {
  if (issued === null)
    return `${file} is not, to the byte, a paper that this desk issued, or not one that you may see. If it claims to be one, do not rely on it.`;
  const { number, revision, date, by, newest } = issued;
  const who = by === null ? "" : ` by ${by}`;
  const later = newest === revision ? "It is the newest revision." : `Revision ${newest} has replaced it.`;
  return `${file} is ${number}, revision ${revision}, issued on ${date}${who}. ${later}`;
}
