import { useId } from "react";
import { tellDesk } from "../desk/ask-desk.ts";
import { FaultText } from "../desk/fault-text.tsx";
import { useStep } from "../desk/use-step.ts";
import type { FileVerdict } from "./paper-records.ts";

interface Verdict {
  readonly issued: {
    readonly name: string;
    readonly number: string;
    readonly revision: number;
    readonly date: string;
    readonly by: string | null;
    readonly newest: number;
  } | null;
  readonly signature: { readonly verdict: FileVerdict; readonly key: string | null } | null;
}

const SIGNATURE = ".sig";
const FILE_VERDICTS: Readonly<Record<FileVerdict, string>> = {
  valid: "Its signature is valid: it is as it was signed, by this desk's key",
  altered: "ALTERED: it is not as it was signed. Do not rely on it",
  "unknown-key": "Unknown key: it is as it was signed, but not by a key of this desk",
  unsigned: "The signature cannot be read",
  missing: "There is no signature",
};

/** Whether a file that somebody holds is one that this desk issued, to the byte, and whether there is a newer one. */
export function VerifyFile() {
  const id = useId();
  const { busy, fault, said, take } = useStep();
  const check = (files: readonly File[]): void => {
    const file = files.find(({ name }) => !name.endsWith(SIGNATURE));
    if (file === undefined) return;
    const beside = files.find(({ name }) => name.endsWith(SIGNATURE));
    take(async () => {
      const body = new Blob([await file.arrayBuffer()], { type: "application/octet-stream" });
      const query = beside === undefined ? "" : `?signature=${encodeURIComponent(await beside.text())}`;
      return verdictWords(file.name, await tellDesk<Verdict>(`/api/papers/verify${query}`, body));
    });
  };
  return (
    <section className="flow">
      <h2>Is this file one of ours?</h2>
      <p>
        Its bytes are compared with those of every paper that this desk issued. Its name does not matter.
        Choose its signature (FILE.sig) with it, and that is checked as well.
      </p>
      <div className="field">
        <label htmlFor={id}>A file to check, with its signature where you have it</label>
        <input
          id={id}
          type="file"
          multiple
          disabled={busy}
          onChange={(event) => {
            check([...(event.currentTarget.files ?? [])]);
            event.currentTarget.value = "";
          }}
        />
      </div>
      <FaultText fault={fault} />
      {said === null ? null : <p>{said}</p>}
    </section>
  );
}

function verdictWords(file: string, { issued, signature }: Verdict): string {
  const by = signature?.verdict === "valid" && signature.key !== null ? ` ${signature.key}` : "";
  const signed = signature === null ? "" : ` ${FILE_VERDICTS[signature.verdict]}${by}.`;
  if (issued === null)
    return `${file} is not, to the byte, a paper that this desk issued, or not one that you may see. If it claims to be one, do not rely on it.${signed}`;
  const { number, revision, date, by: issuer, newest } = issued;
  const who = issuer === null ? "" : ` by ${issuer}`;
  const later = newest === revision ? "It is the newest revision." : `Revision ${newest} has replaced it.`;
  return `${file} is ${number}, revision ${revision}, issued on ${date}${who}. ${later}${signed}`;
}
