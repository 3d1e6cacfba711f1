import { counted } from "../page/counted.ts";
import { Field } from "../page/field.tsx";
import type { Absence, ToldPerson } from "./told-records.ts";

export interface AbsenceForm {
  readonly removed: readonly Absence[];
  readonly added: readonly Absence[];
}

interface AbsenceFieldsProps {
  readonly standing: ToldPerson["away"];
  readonly form: AbsenceForm;
  readonly set: (form: AbsenceForm) => void;
}

const NO_DAYS: Absence = { from: "", to: "" };

/** Absences: those that stand in the files, each to be taken out, and new ones. */
export function AbsenceFields({ standing, form: { removed, added }, set }: AbsenceFieldsProps) {
  const isRemoved = ({ from, to }: Absence): boolean =>
    removed.some((one) => one.from === from && one.to === to);
  const change = (at: number, part: Partial<Absence>): void => {
    set({ removed, added: added.map((one, i) => (i === at ? { ...one, ...part } : one)) });
  };
  return (
    <fieldset className="flow">
      <legend>Away</legend>
      {standing.map((one) => (
        <label key={`${one.from} ${one.to}`} className="tick">
          <input
            type="checkbox"
            checked={isRemoved(one)}
            onChange={() => {
              const others = removed.filter(({ from, to }) => from !== one.from || to !== one.to);
              set({ added, removed: isRemoved(one) ? others : [...others, { from: one.from, to: one.to }] });
            }}
          />
          <span>
            Take out: from {one.from} to {one.to}{" "}
            <span className="soft">
              {one.now ? "now, " : ""}at {counted(one.sites, "site")}
            </span>
          </span>
        </label>
      ))}
      {added.map((one, at) => (
        // Lines have no name of their own; they are added and taken away at their place.
        <div key={at} className="hours-row days" role="group" aria-label={`Absence ${at + 1}`}>
          <Field
            kind="date"
            words="First day away"
            value={one.from}
            typed={(from) => {
              change(at, { from });
            }}
          />
          <Field
            kind="date"
            words="Last day away"
            value={one.to}
            typed={(to) => {
              change(at, { to });
            }}
          />
          <button
            type="button"
            className="word"
            onClick={() => {
              set({ removed, added: added.filter((_, i) => i !== at) });
            }}
          >
            Take away<span className="unseen"> absence {at + 1}</span>
          </button>
        </div>
      ))}
      <p>
        <button
          type="button"
          className="word"
          onClick={() => {
            set({ removed, added: [...added, NO_DAYS] });
          }}
        >
          {standing.length + added.length === 0 ? "Add an absence" : "Another absence"}
        </button>
      </p>
    </fieldset>
  );
}
