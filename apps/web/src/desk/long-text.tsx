import { useId } from "react";

interface LongTextProps {
  readonly words: string;
  readonly value: string;
  readonly typed: (value: string) => void;
}

/** A few lines to type into. */
export function LongText({ words, value, typed }: LongTextProps) {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{words}</label>
      <textarea
        id={id}
        rows={3}
        maxLength={4000}
        value={value}
        onChange={(event) => {
          typed(event.currentTarget.value);
        }}
      />
    </div>
  );
}
