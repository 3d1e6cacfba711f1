import { useId } from "react";

interface FieldProps {
  readonly words: string;
  readonly hint?: string;
  readonly value: string;
  readonly typed: (value: string) => void;
  readonly figures?: boolean;
  /** Not shown while it is typed, and not remembered by the browser. */
  readonly secret?: boolean;
}

/** One line to type into: its name above, a hint below that is read as a description and not as part of the name. */
export function Field({ words, hint, value, typed, figures = false, secret = false }: FieldProps) {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{words}</label>
      <input
        id={id}
        type={secret ? "password" : "text"}
        autoComplete={secret ? "new-password" : "off"}
        inputMode={figures ? "decimal" : "text"}
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
