import type { InputFault } from "@earthbell/model";
import { useEffect, useId, useRef, useState } from "react";
import { go } from "../address/address.ts";
import { ask } from "../engine/ask.ts";
import { announce } from "../page/announce.tsx";
import { InputFaults } from "../page/input-faults.tsx";
import { OpenFile } from "../page/open-file.tsx";
import { Page } from "../page/page.tsx";
import { type FileFault, readDesk, readDeskText, tellDesk } from "./ask-desk.ts";
import { FaultText } from "./fault-text.tsx";
import type { SiteLine } from "./records.ts";
import { siteLinePath } from "./questions.ts";
import { useStep } from "./use-step.ts";

interface SiteFileProps {
  /** null: a site that the desk does not know yet. */
  readonly id: string | null;
}

interface Put {
  readonly site: string;
  readonly revision: number;
  readonly unchanged: boolean;
  readonly remarks: readonly string[];
}

/** The file of a site as text: changed here, checked by the reader of files, saved as the next revision. */
export default function SiteFilePage({ id }: SiteFileProps) {
  const [from, setFrom] = useState<{ readonly text: string; readonly revision: number } | null>(null);
  const opening = useStep();
  const { take } = opening;
  useEffect(() => {
    if (id === null) return;
    take(async () => {
      const [text, lines] = await Promise.all([
        readDeskText(`/api/sites/${encodeURIComponent(id)}`),
        readDesk<readonly SiteLine[]>(siteLinePath(id)),
      ]);
      setFrom({ text, revision: lines[0]?.revision ?? 0 });
      return null;
    });
    // Only another site asks anew: what is being typed is not taken away by a change elsewhere.
  }, [id]);
  return (
    <Page
      title={id === null ? "Put a site file in" : `File of ${id}`}
      under={from === null ? undefined : `Revision ${from.revision}. What you save is the next one.`}
    >
      <FaultText fault={opening.fault} />
      {id === null ? <Editor id={null} begun="" revision={null} /> : null}
      {from === null ? null : <Editor id={id} begun={from.text} revision={from.revision} />}
    </Page>
  );
}

interface EditorProps {
  readonly id: string | null;
  readonly begun: string;
  readonly revision: number | null;
}

function Editor({ id, begun, revision }: EditorProps) {
  const [text, setText] = useState(begun);
  const [faults, setFaults] = useState<readonly (InputFault | FileFault)[] | null>(null);
  const place = useRef<HTMLTextAreaElement>(null);
  const saving = useStep();
  const change = (now: string): void => {
    setText(now);
    setFaults(null);
  };
  const check = async (): Promise<string | null> => {
    const read = await ask("readSite", text, `${id ?? "site"}.yaml`);
    setFaults(read.ok ? [] : read.faults);
    announce(read.ok ? "No fault." : `${read.faults.length} faults.`);
    return read.ok ? read.record.id : null;
  };
  const save = (): void => {
    saving.take(async () => {
      const site = await check();
      if (site === null) return null;
      const query = revision === null ? "" : `?from=${revision}`;
      const put = await tellDesk<Put>(`/api/sites/${encodeURIComponent(id ?? site)}${query}`, text, "PUT");
      if (!put.unchanged) go(`/register/${encodeURIComponent(put.site)}`);
      return put.unchanged ? "Nothing has changed." : `Saved as revision ${put.revision}.`;
    });
  };
  const shown = faults !== null && faults.length > 0 ? faults : (saving.fault?.faults ?? []);
  return (
    <div className="flow">
      <OpenFile
        what="a site file instead"
        opened={(opened) => {
          change(opened);
        }}
      />
      <FileText place={place} text={text} wrong={shown.length > 0} change={change} />
      <p className="row">
        <button
          type="button"
          onClick={() => {
            void check();
          }}
        >
          Check it
        </button>
        <button
          type="button"
          className="main"
          disabled={saving.busy || text === begun || text.trim() === ""}
          onClick={save}
        >
          {saving.busy ? "Saving…" : "Save as the next revision"}
        </button>
      </p>
      {faults?.length === 0 ? <p>No fault.</p> : null}
      {shown.length === 0 ? (
        <FaultText fault={saving.fault} />
      ) : (
        <>
          <InputFaults file="The file" faults={shown} />
          <Lines faults={shown} text={text} place={place} />
        </>
      )}
      {saving.said === null ? null : <p>{saving.said}</p>}
    </div>
  );
}

interface FileTextProps {
  readonly place: React.RefObject<HTMLTextAreaElement | null>;
  readonly text: string;
  readonly wrong: boolean;
  readonly change: (text: string) => void;
}

function FileText({ place, text, wrong, change }: FileTextProps) {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>Text (YAML or JSON)</label>
      <textarea
        id={id}
        ref={place}
        className="site-text"
        rows={28}
        spellCheck={false}
        wrap="off"
        value={text}
        aria-invalid={wrong}
        onChange={(event) => {
          change(event.currentTarget.value);
        }}
      />
    </div>
  );
}

interface LinesProps {
  readonly faults: readonly { readonly line: number | null }[];
  readonly text: string;
  readonly place: React.RefObject<HTMLTextAreaElement | null>;
}

/** Goes to the lines that are at fault, each marked whole in the text. */
function Lines({ faults, text, place }: LinesProps) {
  const lines = [...new Set(faults.flatMap(({ line }) => line ?? []))];
  return (
    <p className="row">
      {lines.slice(0, 20).map((line) => (
        <button
          key={line}
          type="button"
          className="word"
          onClick={() => {
            const before = text.split("\n").slice(0, line - 1);
            const start = before.reduce((sum, one) => sum + one.length + 1, 0);
            const end = start + (text.split("\n")[line - 1] ?? "").length;
            place.current?.focus();
            place.current?.setSelectionRange(start, end);
          }}
        >
          Go to line {line}
        </button>
      ))}
    </p>
  );
}
