import { ADVICE_QUESTIONS, type AdviceQuestion } from "@earthbell/engine";
import type { ReactNode } from "react";
import type { AdviceForm } from "./form.ts";
import { People } from "./people.tsx";

export interface FormProps {
  readonly form: AdviceForm;
  readonly set: (part: Partial<AdviceForm>) => void;
}

type TextName = {
  [Name in keyof AdviceForm]: AdviceForm[Name] extends string ? Name : never;
}[keyof AdviceForm];

function Field({
  form,
  set,
  name,
  words,
  hint,
}: FormProps & { readonly name: TextName; readonly words: string; readonly hint?: string }) {
  return (
    <label className="field">
      <span className="small">{words}</span>
      <input
        value={form[name]}
        autoComplete="off"
        onChange={(event) => {
          set({ [name]: event.currentTarget.value });
        }}
      />
      {hint === undefined ? null : <span className="hint">{hint}</span>}
    </label>
  );
}

interface ChoiceProps extends FormProps {
  readonly name: TextName;
  readonly words: string;
  readonly choices: readonly (readonly [string, string])[];
}

function Choice({ form, set, name, words, choices }: ChoiceProps) {
  return (
    <label className="field">
      <span className="small">{words}</span>
      <select
        value={form[name]}
        onChange={(event) => {
          set({ [name]: event.currentTarget.value });
        }}
      >
        <option value="">not known</option>
        {choices.map(([value, shown]) => (
          <option key={value} value={value}>
            {shown}
          </option>
        ))}
      </select>
    </label>
  );
}

/** The fields of each question, in the words of its answer. */
const FIELDS: Readonly<Record<AdviceQuestion["id"], (props: FormProps) => ReactNode>> = {
  place: (props) => (
    <>
      <Field {...props} name="country" words="Country" hint="two letters, ISO 3166-1: AU" />
      <Field {...props} name="region" words="Region" hint="ISO 3166-2 after the hyphen: VIC" />
      <Field {...props} name="timezone" words="Time zone" hint="Australia/Melbourne" />
      <Field {...props} name="latitude" words="Latitude, degrees" />
      <Field {...props} name="longitude" words="Longitude, degrees" />
    </>
  ),
  installed: (props) => <Field {...props} name="installed" words="Day" hint="YYYY-MM-DD" />,
  strings: (props) => <Field {...props} name="strings" words="Modules in each string" hint="12, 12" />,
  module: (props) => (
    <>
      <Field {...props} name="pmax" words="Power, W" />
      <Field {...props} name="voc" words="Open-circuit voltage, V" />
      <Field {...props} name="coefficient" words="Voltage coefficient, %/K" hint="−0.27" />
      <Field {...props} name="area" words="Area, m²" />
    </>
  ),
  lowestTemperature: (props) => <Field {...props} name="lowest" words="Lowest, °C" />,
  inverter: (props) => (
    <>
      <Field {...props} name="rated" words="Rated power, kVA" />
      <Choice
        {...props}
        name="separation"
        words="Transformer to the mains"
        choices={[
          ["none", "none"],
          ["simple", "there is one"],
        ]}
      />
    </>
  ),
  earthing: (props) => (
    <Choice
      {...props}
      name="earthing"
      words="Earthing"
      choices={[
        ["floating", "floating"],
        ["functional", "functionally earthed"],
        ["solid", "solidly earthed"],
      ]}
    />
  ),
  mounting: (props) => (
    <Choice
      {...props}
      name="mounting"
      words="Stands"
      choices={[
        ["building", "on a building"],
        ["field", "in a field"],
      ]}
    />
  ),
  people: (props) => <People {...props} />,
  present: (props) => <Field {...props} name="present" words="Hours" hint="Mon-Fri 07:00-17:00" />,
  network: (props) => (
    <Choice
      {...props}
      name="network"
      words="Network"
      choices={[
        ["none", "none"],
        ["owners-router", "the owner’s router"],
        ["own-line", "a line of its own"],
        ["mobile", "a mobile modem"],
      ]}
    />
  ),
  light: (props) => (
    <>
      <Choice
        {...props}
        name="accessible"
        words="People may go there"
        choices={[
          ["yes", "yes"],
          ["no", "no"],
        ]}
      />
      <Field {...props} name="passes" words="Passes a day" />
      <Field {...props} name="distance" words="Seen from, m" />
    </>
  ),
  relay: (props) => (
    <Choice
      {...props}
      name="relay"
      words="Fault contact"
      choices={[
        ["none", "none"],
        ["any-fault", "operates on any fault"],
        ["earth-fault", "operates on an earth fault only"],
      ]}
    />
  ),
};

/** Every question with its fields; the one most worth answering next is marked. */
export function Questions({ form, set, next }: FormProps & { readonly next: string | null }) {
  return (
    <>
      <div className="fields">
        <Field {...{ form, set }} name="name" words="Name of the site" />
      </div>
      {ADVICE_QUESTIONS.map(({ id, asks, decides }) => (
        <fieldset key={id} id={`ask-${id}`} className="question flow">
          <legend>
            {asks} {id === next ? <span className="next-mark">answer this next</span> : null}
          </legend>
          <p className="small soft">Decides {decides}.</p>
          <div className="fields">{FIELDS[id]({ form, set })}</div>
        </fieldset>
      ))}
    </>
  );
}
