import { useId } from "react";

interface DayFieldProps {
  readonly words: string;
  readonly hint?: string;
  /** YYYY-MM-DD; empty: none. */
  readonly value: string;
  readonly typed: (value: string) => void;
}

/** A day of the calendar. */
export function DayField({ words, hint, value, typed }: DayFieldProps) {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{words}</label>
      <input
        id={id}
        type="date"
        value={value}
        aria-describedby={hint === undefined ? undefined : `${id}-hint`}
        onChange={(event) => {
          typed(event.currentTarget.value);
        }}
      />
      {hint === undefined ? null : (
        <span id={`${id}-hint`} className="hint">
          {hint}
        </span>
      )}
    </div>
  );
}
