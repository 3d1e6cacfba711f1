import { type Dimension, type Expected, formatQuantity, type QuantityOf } from "@earthbell/engine";
import type { Judgement } from "@earthbell/model";
import { State } from "../page/state.tsx";
import type { InstrumentEntry, ResultEntry } from "./commissioning-form.ts";
import { FormChoice, FormField, YesNo } from "./form-field.tsx";
import { expectedOf, type ProofLine } from "./proof-lines.ts";

interface LineEntryProps {
  readonly line: ProofLine;
  readonly entry: ResultEntry;
  /** It has others beside it, and is told apart by this. */
  readonly which: number | null;
  readonly judgement: Judgement | null;
  readonly instruments: readonly InstrumentEntry[];
  readonly put: (entry: ResultEntry) => void;
  /** null: it is the only one of its line. */
  readonly remove: (() => void) | null;
}

/** The units in which a reading of each kind is shown by instruments. */
const UNITS: Readonly<Partial<Record<Dimension, readonly string[]>>> = {
  resistance: ["Ω", "kΩ", "MΩ", "GΩ"],
  voltage: ["V", "kV"],
  current: ["A", "mA"],
  duration: ["s", "min", "h"],
};

/** One reading of a line, what it says by the limit, and what a person decides where there is none. */
export function LineEntry({ line, entry, which, judgement, instruments, put, remove }: LineEntryProps) {
  const at = `result:${entry.key}`;
  const expected = expectedOf(line, entry);
  const name = which === null ? line.number : `${line.number}, reading ${which}`;
  const set = (change: Partial<ResultEntry>): void => {
    put({ ...entry, ...change });
  };
  return (
    <div className="flow entry" role="group" aria-label={`Line ${name}`}>
      {line.alternatives.length === 0 ? null : (
        <FormChoice
          at={`${at}.line`}
          words="Cells at about"
          value={String(entry.line ?? line.slot.line)}
          choices={line.alternatives.map((one) => [
            String(one.line),
            `${/\d.*$/u.exec(one.expected.text.replace(/^.*, cells at /u, ""))?.[0] ?? one.expected.text}: ${figureOf(one.expected) ?? ""}`,
          ])}
          chosen={(chosen) => {
            set({ line: Number(chosen) });
          }}
        />
      )}
      <Reading {...{ at, entry, set, expected }} />
      <Verdict {...{ at, entry, judgement, set }} byLimit={expected?.bound !== undefined} />
      <details>
        <summary>
          Where, instrument, remark, own limit<span className="unseen"> of line {name}</span>
        </summary>
        <MoreFields {...{ at, entry, instruments, set }} />
      </details>
      {remove === null ? null : (
        <button type="button" className="word" onClick={remove}>
          Take reading {which} of line {line.number} away
        </button>
      )}
    </div>
  );
}

interface PartProps {
  readonly at: string;
  readonly entry: ResultEntry;
  readonly set: (change: Partial<ResultEntry>) => void;
}

function Reading({ at, entry, set, expected }: PartProps & { readonly expected: Expected | null }) {
  const dimension = expected?.dimension;
  const units = dimension === undefined ? [] : (UNITS[dimension] ?? []);
  // What is to be reached is the best guess at the unit in which the instrument shows it.
  const likely = units.find((one) => one === /\S+$/u.exec(figureOf(expected ?? {}) ?? "")?.[0]) ?? units[0];
  const unit = entry.unit === "" ? (likely ?? "") : entry.unit;
  const withUnit = /\p{L}|%/u.test(entry.reading);
  return (
    <div className={units.length === 0 ? undefined : "with-unit"}>
      <FormField
        at={`${at}.reading`}
        words={dimension === undefined ? "What was seen, in words" : "Reading"}
        value={entry.reading}
        big={dimension !== undefined}
        typed={(reading) => {
          set({ reading, unit });
        }}
      />
      {units.length === 0 ? null : (
        <FormChoice
          at={`${at}.unit`}
          words="Unit"
          value={withUnit ? "" : unit}
          choices={[...(withUnit ? ([["", "as typed"]] as const) : units.map((one) => [one, one] as const))]}
          chosen={(chosen) => {
            set({ unit: chosen });
          }}
        />
      )}
    </div>
  );
}

/** By the limit where there is one; everything else is left to a person. */
function Verdict({
  at,
  entry,
  judgement,
  set,
  byLimit,
}: PartProps & Pick<LineEntryProps, "judgement"> & { readonly byLimit: boolean }) {
  if (judgement?.verdict === "fails")
    return (
      <p>
        <State state="fault" word="Does not pass" /> {judgement.text}.
      </p>
    );
  if (judgement?.verdict === "passes")
    return (
      <>
        <p>
          {entry.passed === "no" ? (
            <State state="fault" word="Does not pass" />
          ) : (
            <State state="proven" word="Passes" />
          )}{" "}
          {judgement.text}.
        </p>
        <label className="choice">
          <input
            type="checkbox"
            checked={entry.passed === "no"}
            onChange={(event) => {
              set({ passed: event.currentTarget.checked ? "no" : "" });
            }}
          />
          It does not pass, for a reason of its own
        </label>
      </>
    );
  if (byLimit || judgement?.verdict === "unreadable") return null;
  return (
    <YesNo
      at={`${at}.passed`}
      words="Is it so?"
      yes="Yes, passes"
      no="No, does not pass"
      value={entry.passed}
      answered={(passed) => {
        set({ passed });
      }}
    />
  );
}

function MoreFields({ at, entry, instruments, set }: PartProps & Pick<LineEntryProps, "instruments">) {
  return (
    <div className="fields">
      <FormField
        at={`${at}.at`}
        words="Where"
        hint="string, pole or place"
        value={entry.at}
        typed={(where) => {
          set({ at: where });
        }}
      />
      <FormChoice
        at={`${at}.with`}
        words="Instrument"
        value={entry.with}
        choices={[["", "None"], ...instruments.map(({ id, what }) => [id, `${id} ${what}`.trim()] as const)]}
        chosen={(chosen) => {
          set({ with: chosen });
        }}
      />
      <FormField
        at={`${at}.note`}
        words="Remark"
        long
        value={entry.note}
        typed={(note) => {
          set({ note });
        }}
      />
      <FormField
        at={`${at}.limit`}
        words="Limit of this job"
        hint="where another one holds, with its unit"
        value={entry.limit}
        typed={(limit) => {
          set({ limit });
        }}
      />
      <FormField
        at={`${at}.limitFrom`}
        words="Where that limit comes from"
        value={entry.limitFrom}
        typed={(limitFrom) => {
          set({ limitFrom });
        }}
      />
    </div>
  );
}

/** The figure of a line as it is printed. */
export function figureOf({ value, dimension }: Pick<Expected, "value" | "dimension">): string | null {
  if (value === undefined || dimension === undefined) return null;
  return formatQuantity(value as QuantityOf[Dimension], dimension, { significant: 4 });
}
