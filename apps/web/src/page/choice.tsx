import { useId } from "react";
import { FieldNotes, notesOf } from "./field-notes.tsx";

interface ChoiceProps {
  readonly words: string;
  readonly fault?: string | undefined;
  readonly value: string;
  /** Value and what is shown for it. */
  readonly choices: readonly (readonly [value: string, shown: string])[];
  readonly chosen: (value: string) => void;
  /** Where something else has to find it; else it has an id of its own. */
  readonly id?: string;
}

/** One of a few. */
export function Choice({ words, fault, value, choices, chosen, id }: ChoiceProps) {
  const own = useId();
  const at = id ?? own;
  return (
    <div className="field">
      <label htmlFor={at}>{words}</label>
      <select
        id={at}
        value={value}
        aria-invalid={fault !== undefined}
        aria-describedby={notesOf(at, { fault })}
        onChange={(event) => {
          chosen(event.currentTarget.value);
        }}
      >
        {choices.map(([one, shown]) => (
          <option key={one} value={one}>
            {shown}
          </option>
        ))}
      </select>
      <FieldNotes at={at} fault={fault} />
    </div>
  );
}
