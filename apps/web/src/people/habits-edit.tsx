import { useState } from "react";
import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import { AbsenceFields } from "./absence-fields.tsx";
import { changeOf, formOf, type HabitsForm } from "./change-form.ts";
import { HoursFields } from "./hours-fields.tsx";
import { Plan, usePlan } from "./plan.tsx";
import type { Entry, ToldWhole } from "./told-records.ts";

interface HabitsEditProps {
  readonly person: ToldWhole;
  readonly onDate: string;
  readonly done: (said: string) => void;
}

const EVERYWHERE = "";

/** Hours, looks, absences and the end of a post, for one site or for all. */
export function HabitsEdit({ person, onDate, done }: HabitsEditProps) {
  const [site, setSite] = useState(EVERYWHERE);
  const mine = person.entries.filter(({ mayChange }) => mayChange);
  const sites = [...new Map(mine.map((entry) => [entry.site, entry.siteName ?? entry.site]))];
  if (mine.length === 0) return <p>Hours and absences are changed by whoever keeps the site files.</p>;
  return (
    <>
      {sites.length < 2 ? null : (
        <div className="narrow">
          <Choice
            words="For"
            value={site}
            choices={[[EVERYWHERE, `all ${person.sites} sites`], ...sites]}
            chosen={setSite}
          />
        </div>
      )}
      <Fields
        key={site}
        person={person}
        site={site === EVERYWHERE ? null : site}
        entries={site === EVERYWHERE ? mine : mine.filter((entry) => entry.site === site)}
        onDate={onDate}
        done={done}
      />
    </>
  );
}

interface FieldsProps extends HabitsEditProps {
  /** null: all of them. */
  readonly site: string | null;
  readonly entries: readonly Entry[];
}

function Fields({ person, site, entries, onDate, done }: FieldsProps) {
  const [begun] = useState(() => formOf(entries));
  const [form, setForm] = useState<HabitsForm>(begun);
  const planning = usePlan();
  const change = changeOf(begun, form);
  const set = (part: Partial<HabitsForm>): void => {
    setForm({ ...form, ...part });
    planning.drop();
  };
  const differs = (value: (entry: Entry) => unknown): boolean => new Set(entries.map(value)).size > 1;
  const here = person.away.filter(({ from, to }) =>
    entries.some(({ away }) => away.some((one) => one.from === from && one.to === to)),
  );
  const blank = (value: (entry: Entry) => unknown, words: string): string =>
    differs(value) ? "differs between sites; blank leaves each" : words;
  return (
    <form
      className="flow"
      onSubmit={(event) => {
        event.preventDefault();
        if (change !== null) planning.look({ of: person.of, sites: site === null ? null : [site], change });
      }}
    >
      <HoursFields
        form={form.hours}
        differ={begun.hours.kind === "stays"}
        set={(hours) => {
          set({ hours });
        }}
      />
      <AbsenceFields
        standing={here}
        form={form.absences}
        set={(absences) => {
          set({ absences });
        }}
      />
      <div className="fields">
        <Field
          words="Looks a day, within these hours"
          hint={blank(({ checksPerDay }) => checksPerDay, "blank: not known")}
          kind="figures"
          value={form.looks}
          typed={(looks) => {
            set({ looks });
          }}
        />
        <Field
          kind="date"
          words="Last day in this post"
          hint={blank(({ until }) => until, "blank: no end is known")}
          value={form.until}
          typed={(until) => {
            set({ until });
          }}
        />
      </div>
      <p>
        <button type="submit" disabled={change === null || planning.looking.busy}>
          Show what changes
        </button>
      </p>
      <Plan planning={planning} onDate={onDate} done={done} />
    </form>
  );
}
