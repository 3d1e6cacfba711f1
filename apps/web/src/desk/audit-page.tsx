import { useDeferredValue, useState } from "react";
import { oneOf, useView } from "../address/use-view.ts";
import { Asking } from "../page/asking.tsx";
import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import { Filters } from "../page/filters.tsx";
import { Page } from "../page/page.tsx";
import { State } from "../page/state.tsx";
import { readDesk } from "./ask-desk.ts";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import { keepsDesk } from "./keeps-desk.ts";
import { type Happening, HAPPENING_KINDS } from "./live.ts";
import type { Me } from "./records.ts";
import { useAnswer } from "./use-answer.ts";
import { useStep } from "./use-step.ts";

interface JournalRow extends Happening {
  readonly hash: string;
}

const PAGE = 100;
const KINDS = [["", "Everything"], ...HAPPENING_KINDS.map((one) => [one, one] as const)] as const;
const PLAIN = { find: "", by: "", of: "" };

/** Everything that was done, by whom and when; rows are only ever added, and each holds on to the one before. */
export default function AuditPage({ me }: { readonly me: Me }) {
  if (!keepsDesk(me))
    return (
      <Page title="Audit">
        <p>The journal is seen by service engineers who run the whole desk. Ask one of them.</p>
      </Page>
    );
  return (
    <Page
      title="Audit"
      under="Everything that was done here, newest first. Rows are only ever added, and each carries the hash of the one before."
    >
      <Chain />
      <Rows />
    </Page>
  );
}

interface Checked {
  readonly holds: boolean;
  readonly brokenAt: number | null;
  readonly rows: number;
}

function Chain() {
  const [checked, setChecked] = useState<Checked | null>(null);
  const { busy, fault, take } = useStep();
  const check = async (): Promise<string> => {
    const answer = await readDesk<Checked>("/api/journal/check");
    setChecked(answer);
    return answer.holds ? `The chain of ${answer.rows} rows holds.` : "The chain does not hold.";
  };
  return (
    <section className="flow">
      <h2>The chain</h2>
      {checked === null ? null : checked.holds ? (
        <p>
          <State state="proven" word="Holds" /> All {checked.rows} rows are as they were written: none was
          changed, lost or put in.
        </p>
      ) : (
        <p>
          <State state="fault" word="Broken" /> From row {checked.brokenAt} on it is not as it was written.
          Keep a copy of the store, and compare with an older one.
        </p>
      )}
      <p className="row">
        <button
          type="button"
          disabled={busy}
          onClick={() => {
            take(check);
          }}
        >
          {busy ? "Going through every row…" : "Check the whole chain"}
        </button>
        <a href="/api/journal" download="journal.jsonl">
          Save the journal (JSON lines)
        </a>
      </p>
      <FaultText fault={fault} />
    </section>
  );
}

function Rows() {
  const [{ find, by, ...view }, show] = useView(PLAIN);
  const kind = oneOf(KINDS, view.of);
  /** Sequence numbers before which a page begins, the newest page first. */
  const [before, setBefore] = useState<readonly number[]>([]);
  const query = useDeferredValue(queryOf({ by, kind, holds: find, before: before.at(-1) }));
  const { value, fault } = useAnswer<readonly JournalRow[]>(`/api/journal/rows?${query}`, HAPPENING_KINDS);
  const filter = (name: keyof typeof PLAIN) => (value: string) => {
    setBefore([]);
    show(name)(value);
  };
  return (
    <section className="flow">
      <h2>Rows</h2>
      <Filters within="the row" find={find} typed={filter("find")} chosen={chosenWords(by.trim(), kind)}>
        <Field words="By" hint="the name as it is recorded" value={by} typed={filter("by")} />
        <Choice words="Of" value={kind} choices={KINDS} chosen={filter("of")} />
      </Filters>
      <FaultText fault={fault} />
      {value === undefined && fault === null ? <Asking /> : null}
      {value?.length === 0 ? <p className="soft">No such row.</p> : null}
      <ol className="plain index">
        {value?.map((row) => (
          <Row key={row.sequence} row={row} />
        ))}
      </ol>
      <p className="row">
        <button
          type="button"
          disabled={before.length === 0}
          onClick={() => {
            setBefore(before.slice(0, -1));
          }}
        >
          Newer
        </button>
        <button
          type="button"
          disabled={(value?.length ?? 0) < PAGE}
          onClick={() => {
            setBefore([...before, value!.at(-1)!.sequence]);
          }}
        >
          Older
        </button>
      </p>
    </section>
  );
}

function chosenWords(by: string, kind: string): string {
  const done = by === "" ? "what anybody did" : `what ${by} did`;
  return `Show ${done}${kind === "" ? "" : `, only of “${kind}”`}`;
}

interface Filter {
  readonly by: string;
  readonly kind: string;
  readonly holds: string;
  readonly before: number | undefined;
}

function queryOf({ before, ...words }: Filter): string {
  const query = new URLSearchParams({ limit: String(PAGE) });
  for (const [name, value] of Object.entries(words)) if (value.trim() !== "") query.set(name, value.trim());
  if (before !== undefined) query.set("before", String(before));
  return query.toString();
}

function Row({ row: { sequence, at, kind, site, by, text, hash } }: { readonly row: JournalRow }) {
  return (
    <li className="noted">
      <p className="broken">
        {text}
        <br />
        <span className="soft">
          {by === null ? "by the desk" : `by ${by}`}, {kind}
          {site === null ? "" : `, ${site}`}
        </span>
      </p>
      <p className="note">
        {instantWords(at)}
        <br />
        row {sequence}, <span className="figure">{hash.slice(0, 8)}…</span>
      </p>
    </li>
  );
}
