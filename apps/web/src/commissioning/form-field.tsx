import type { ComponentProps } from "react";
import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import { FieldNotes, notesOf } from "../page/field-notes.tsx";
import { idOfField, useFieldFault } from "./field-faults.ts";

/** Its place in the form, by which faults find it. */
interface AtPlace {
  readonly at: string;
}

/** A field of a form that becomes a record: what is wrong with it stands below it. */
export function FormField({ at, ...field }: AtPlace & Omit<ComponentProps<typeof Field>, "id" | "fault">) {
  return <Field id={idOfField(at)} fault={useFieldFault(at)} {...field} />;
}

/** One of a few, in a form that becomes a record. */
export function FormChoice({ at, ...choice }: AtPlace & Omit<ComponentProps<typeof Choice>, "id" | "fault">) {
  return <Choice id={idOfField(at)} fault={useFieldFault(at)} {...choice} />;
}

interface YesNoProps {
  readonly at: string;
  readonly words: string;
  readonly value: "" | "yes" | "no";
  /** What yes and no mean here. */
  readonly yes: string;
  readonly no: string;
  readonly answered: (value: "yes" | "no") => void;
}

/** Yes or no, decided by a person. */
export function YesNo({ at, words, value, yes, no, answered }: YesNoProps) {
  const fault = useFieldFault(at);
  const id = idOfField(at);
  return (
    <fieldset aria-describedby={notesOf(id, { fault })}>
      <legend>{words}</legend>
      <div className="row">
        {(
          [
            ["yes", yes],
            ["no", no],
          ] as const
        ).map(([one, shown], index) => (
          <label key={one} className="choice">
            <input
              type="radio"
              name={id}
              {...(index === 0 ? { id } : {})}
              checked={value === one}
              onChange={() => {
                answered(one);
              }}
            />
            {shown}
          </label>
        ))}
      </div>
      <FieldNotes at={id} fault={fault} />
    </fieldset>
  );
}
