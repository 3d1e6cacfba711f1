import { useState } from "react";
import { type FileFault, tellDesk } from "../desk/ask-desk.ts";
import { FaultText } from "../desk/fault-text.tsx";
import { useStep } from "../desk/use-step.ts";
import { InputFaults } from "../page/input-faults.tsx";
import { CheckWords, FileLink } from "./file-link.tsx";
import type { Drafted, Issued } from "./paper-records.ts";
import { type Drafting, type Looks, tellingFaults, useDraft } from "./use-draft.ts";
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
  readonly looks?: Looks;
  /** A form that takes as much room as its draft, and is typed into for long: the last draft stays while the next one is made. */
  readonly long?: boolean;
  /** What is asked is of what stands in the fields now, and not still being worked out. */
  readonly settled?: boolean;
  /** Told which faults the desk found in what it was asked; none where there were none. */
  readonly refused?: (faults: readonly FileFault[]) => void;
  /** The fields that belong to it. */
  readonly children?: React.ReactNode;
}

/** A form beside the draft that it makes, which follows what is chosen: look first, then issue. */
export function PaperMaker({
  asked,
  formats,
  mayIssue,
  done,
  looks = "when-chosen",
  long = false,
  settled = true,
  refused,
  children,
}: PaperMakerProps) {
  const key = JSON.stringify(asked);
  const drafting = useDraft(key, looks, refused);
  const issuing = useStep();
  const [chosen, setChosen] = useState<readonly string[]>(["pdf"]);
  const [made, setMade] = useState<Issued | null>(null);
  const { drafted, current } = drafting;
  const shown = current || long ? drafted : null;
  const busy = drafting.step.busy || issuing.busy || !settled;
  const issue = (): void => {
    setMade(null);
    issuing.take(async () => {
      const answer = await tellingFaults(
        tellDesk<Issued>("/api/papers", { ...asked, formats: chosen }),
        refused,
      );
      setMade(answer);
      return issuedWords(answer);
    }, done);
  };
  return (
    <div className={long ? "maker long" : "maker"}>
      <div className="flow">
        {children}
        {mayIssue ? <Formats formats={formats} chosen={chosen} choose={setChosen} /> : null}
        <p className="row">
          <button type="button" disabled={asked === null || busy} onClick={drafting.look}>
            {drafting.step.busy ? "Making a draft…" : "Look at a draft"}
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
        {[drafting.step, issuing].map((step, i) => (
          <Said key={i} step={step} />
        ))}
        {made === null ? null : <MadeFiles files={made.files} />}
        {shown === null ? null : shown.warnings.map((text) => <p key={text}>{text}</p>)}
      </div>
      <DraftPlace shown={shown} complete={asked !== null} long={long} {...drafting} />
    </div>
  );
}

interface DraftPlaceProps extends Drafting {
  readonly shown: Drafted | null;
  /** Nothing is missing that a draft needs. */
  readonly complete: boolean;
  readonly long: boolean;
}

/** The draft in a frame that may do nothing but be read, or why there is none yet. */
function DraftPlace({ shown, complete, long, current, follows }: DraftPlaceProps) {
  if (shown === null)
    return (
      <p className="soft draft-place">
        {!complete
          ? `The draft is shown here once ${long ? "nothing is missing or wrong" : "everything is chosen"}.`
          : !follows
            ? "The draft is shown here when you ask for it."
            : "The draft is being made…"}
      </p>
    );
  const frame = (
    <iframe
      className="draft-place"
      title={`Draft of ${shown.number}, revision ${shown.revision}`}
      sandbox=""
      src={`/api/papers/drafts/${encodeURIComponent(shown.draft)}`}
    />
  );
  if (!long) return frame;
  return (
    <div className="draft-beside">
      <p className="soft small">
        {current
          ? "The draft as it stands."
          : complete
            ? "The draft of before your last change; the next one is being made."
            : "The draft of before your last change; the next one follows once nothing is missing or wrong."}
      </p>
      {frame}
    </div>
  );
}

interface FormatsProps {
  readonly formats: PaperMakerProps["formats"];
  readonly chosen: readonly string[];
  readonly choose: (chosen: readonly string[]) => void;
}

function Formats({ formats, chosen, choose }: FormatsProps) {
  return (
    <fieldset className="flow controls">
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

/** What was just issued, to take away at once. */
function MadeFiles({ files }: { readonly files: readonly string[] }) {
  return (
    <>
      <p className="row">
        {files.map((name) => (
          <span key={name}>
            <FileLink name={name} signed />
          </span>
        ))}
      </p>
      <CheckWords />
    </>
  );
}

function issuedWords({ number, revision, again, files, notDrawn }: Issued): string {
  const what = again ? "is as it was; its files were made again" : "is issued";
  const missing = notDrawn === "" ? "" : ` The type of the PDF lacks ${notDrawn}; each stands as □ in it.`;
  return `${number}, revision ${revision}, ${what}: ${files.join(", ")}.${missing}`;
}
