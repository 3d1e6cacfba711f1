import { useId } from "react";

interface ChoiceProps {
  readonly words: string;
  readonly value: string;
  /** Value and what is shown for it. */
  readonly choices: readonly (readonly [value: string, shown: string])[];
  readonly chosen: (value: string) => void;
}

/** One of a few. */
export function Choice({ words, value, choices, chosen }: ChoiceProps) {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{words}</label>
      <select
        id={id}
        value={value}
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
    </div>
  );
}
