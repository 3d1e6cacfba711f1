import { useEffect, useState } from "react";
import { tellDesk } from "../desk/ask-desk.ts";
import { FaultText } from "../desk/fault-text.tsx";
import { useStep } from "../desk/use-step.ts";
import { InputFaults } from "../page/input-faults.tsx";
import type { Drafted, Issued } from "./paper-records.ts";
import "./papers.css";

interface PaperMakerProps {
  /** What the desk is asked to make; null while something is missing. */
  readonly asked: Readonly<Record<string, unknown>> | null;
  /** Formats in which it can be issued. */
  readonly formats: readonly ("pdf" | "html" | "csv" | "xlsx")[];
  readonly mayIssue: boolean;
  readonly done: () => void;
  /**
   * When the draft is made: at once; when something is chosen, and from the first look on; or when asked only, because making it
   * takes long.
   */
  readonly looks?: "at-once" | "when-chosen" | "when-asked";
  /** The fields that belong to it. */
  readonly children?: React.ReactNode;
}

/** A draft is made once the fields have been left alone for so long. */
const STILL_MS = 500;

/** A form beside the draft that it makes, which follows what is chosen: look first, then issue. */
export function PaperMaker({
  asked,
  formats,
  mayIssue,
  done,
  looks = "when-chosen",
  children,
}: PaperMakerProps) {
  const looking = useStep();
  const issuing = useStep();
  const [draft, setDraft] = useState<{ readonly of: string; readonly drafted: Drafted } | null>(null);
  const [chosen, setChosen] = useState<readonly string[]>(["pdf"]);
  const key = JSON.stringify(asked);
  const shown = draft?.of === key ? draft.drafted : null;
  const busy = looking.busy || issuing.busy;
  const look = (): void => {
    looking.take(async () => {
      const drafted = await tellDesk<Drafted>("/api/papers/drafts", asked);
      setDraft({ of: key, drafted });
      return draftWords(drafted);
    });
  };
  const follows = useFollows(looks, key, draft !== null);
  useEffect(() => {
    if (!follows || key === "null" || draft?.of === key) return;
    const timer = setTimeout(look, STILL_MS);
    return () => {
      clearTimeout(timer);
    };
    // `look` is written anew in every rendering and asks for what `key` says.
  }, [key, follows]);
  const issue = (): void => {
    issuing.take(async () => {
      const made = await tellDesk<Issued>("/api/papers", { ...asked, formats: chosen });
      return issuedWords(made);
    }, done);
  };
  return (
    <div className="maker">
      <div className="flow">
        {children}
        {mayIssue ? <Formats formats={formats} chosen={chosen} choose={setChosen} /> : null}
        <p className="row">
          <button type="button" disabled={asked === null || busy} onClick={look}>
            {looking.busy ? "Making a draft…" : "Look at a draft"}
          </button>
          {mayIssue ? (
            <button
              type="button"
              className="main"
              disabled={asked === null || busy || chosen.length === 0}
              onClick={issue}
            >
              {issuing.busy ? "Issuing…" : "Issue it"}
            </button>
          ) : null}
        </p>
        {[looking, issuing].map((step, i) => (
          <Said key={i} step={step} />
        ))}
        {shown === null ? null : shown.warnings.map((text) => <p key={text}>{text}</p>)}
      </div>
      {shown === null ? (
        <p className="soft draft-place">
          {asked === null
            ? "The draft is shown here once everything is chosen."
            : !follows
              ? "The draft is shown here when you ask for it."
              : "The draft is being made…"}
        </p>
      ) : (
        <iframe
          className="draft-place"
          title={`Draft of ${shown.number}, revision ${shown.revision}`}
          sandbox=""
          src={`/api/papers/drafts/${encodeURIComponent(shown.draft)}`}
        />
      )}
    </div>
  );
}

/** Whether the draft is made without being asked for: nothing is made for somebody who has not touched the form. */
function useFollows(looks: PaperMakerProps["looks"], key: string, looked: boolean): boolean {
  const [first] = useState(key);
  return looks === "at-once" || (looks === "when-chosen" && (key !== first || looked));
}

interface FormatsProps {
  readonly formats: PaperMakerProps["formats"];
  readonly chosen: readonly string[];
  readonly choose: (chosen: readonly string[]) => void;
}

function Formats({ formats, chosen, choose }: FormatsProps) {
  return (
    <fieldset className="flow">
      <legend>Issue it as</legend>
      <div className="row">
        {formats.map((format) => (
          <label key={format} className="tick">
            <input
              type="checkbox"
              checked={chosen.includes(format)}
              onChange={(event) => {
                const others = chosen.filter((one) => one !== format);
                choose(event.currentTarget.checked ? [...others, format] : others);
              }}
            />
            {format.toUpperCase()}
          </label>
        ))}
      </div>
    </fieldset>
  );
}

function Said({ step: { fault, said } }: { readonly step: ReturnType<typeof useStep> }) {
  if (fault !== null && fault.faults.length > 0)
    return <InputFaults file={fault.faults[0]!.file} faults={fault.faults} />;
  return (
    <>
      <FaultText fault={fault} />
      {said === null ? null : <p>{said}</p>}
    </>
  );
}

function draftWords({ number, revision, again, changed }: Drafted): string {
  if (again) return `Nothing has changed since revision ${revision} of ${number}.`;
  if (revision === 1) return `It would be the first issue of ${number}.`;
  return `It would be revision ${revision} of ${number}; ${changed === 1 ? "one thing" : `${changed} things`} changed.`;
}

function issuedWords({ number, revision, again, files, notDrawn }: Issued): string {
  const what = again ? "is as it was; its files were made again" : "is issued";
  const missing = notDrawn === "" ? "" : ` The type of the PDF lacks ${notDrawn}; each stands as □ in it.`;
  return `${number}, revision ${revision}, ${what}: ${files.join(", ")}.${missing}`;
}
