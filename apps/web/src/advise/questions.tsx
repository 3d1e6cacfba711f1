import { ADVICE_QUESTIONS, type AdviceQuestion } from "@earthbell/engine";
import { memo, type ReactNode } from "react";
import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import type { AdviceForm } from "./form.ts";
import type { FormProps } from "./form-props.ts";
import { People } from "./people.tsx";

type TextName = {
  [Name in keyof AdviceForm]: AdviceForm[Name] extends string ? Name : never;
}[keyof AdviceForm];

interface AnswerProps extends FormProps {
  readonly name: TextName;
  readonly words: string;
  readonly hint?: string;
}

function Answer({ form, set, name, words, hint }: AnswerProps) {
  return (
    <Field
      words={words}
      {...(hint === undefined ? {} : { hint })}
      value={form[name]}
      typed={(value) => {
        set({ [name]: value });
      }}
    />
  );
}

interface PickProps extends FormProps {
  readonly name: TextName;
  readonly words: string;
  readonly choices: readonly (readonly [string, string])[];
}

function Pick({ form, set, name, words, choices }: PickProps) {
  return (
    <Choice
      words={words}
      value={form[name]}
      choices={[["", "not known"], ...choices]}
      chosen={(value) => {
        set({ [name]: value });
      }}
    />
  );
}

/** The fields of each question, in the words of its answer. */
const FIELDS: Readonly<Record<AdviceQuestion["id"], (props: FormProps) => ReactNode>> = {
  place: (props) => (
    <>
      <Answer {...props} name="country" words="Country" hint="two letters, ISO 3166-1: AU" />
      <Answer {...props} name="region" words="Region" hint="ISO 3166-2 after the hyphen: VIC" />
      <Answer {...props} name="timezone" words="Time zone" hint="Australia/Melbourne" />
      <Answer {...props} name="latitude" words="Latitude, degrees" />
      <Answer {...props} name="longitude" words="Longitude, degrees" />
    </>
  ),
  installed: (props) => <Answer {...props} name="installed" words="Day" hint="YYYY-MM-DD" />,
  strings: (props) => <Answer {...props} name="strings" words="Modules in each string" hint="12, 12" />,
  module: (props) => (
    <>
      <Answer {...props} name="pmax" words="Power, W" />
      <Answer {...props} name="voc" words="Open-circuit voltage, V" />
      <Answer {...props} name="coefficient" words="Voltage coefficient, %/K" hint="−0.27" />
      <Answer {...props} name="area" words="Area, m²" />
    </>
  ),
  lowestTemperature: (props) => <Answer {...props} name="lowest" words="Lowest, °C" />,
  inverter: (props) => (
    <>
      <Answer {...props} name="rated" words="Rated power, kVA" />
      <Pick
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
    <Pick
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
    <Pick
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
  present: (props) => <Answer {...props} name="present" words="Hours" hint="Mon-Fri 07:00-17:00" />,
  network: (props) => (
    <Pick
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
      <Pick
        {...props}
        name="accessible"
        words="People may go there"
        choices={[
          ["yes", "yes"],
          ["no", "no"],
        ]}
      />
      <Answer {...props} name="passes" words="Passes a day" />
      <Answer {...props} name="distance" words="Seen from, m" />
    </>
  ),
  relay: (props) => (
    <Pick
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

interface QuestionsProps extends FormProps {
  readonly next: string | null;
}

/** Every question with its fields; the one most worth answering next is marked. Not drawn again for an answer that leaves it as it is. */
export const Questions = memo(function Questions({ form, set, next }: QuestionsProps) {
  return (
    <>
      <div className="fields">
        <Answer {...{ form, set }} name="name" words="Name of the site" />
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
});
