import { useId } from "react";
import { FieldNotes, notesOf } from "./field-notes.tsx";

interface FieldProps {
  readonly words: string;
  readonly hint?: string | undefined;
  /** What is wrong with what stands there. */
  readonly fault?: string | undefined;
  readonly value: string;
  readonly typed: (value: string) => void;
  /** `secret`: not shown while it is typed, and not remembered by the browser. */
  readonly kind?: "text" | "figures" | "date" | "time" | "secret";
  /** What is read off an instrument. */
  readonly big?: boolean | undefined;
  /** Several lines. */
  readonly long?: boolean | undefined;
  /** Where something else has to find it; else it has an id of its own. */
  readonly id?: string;
}

const TYPES = { text: "text", figures: "text", date: "date", time: "time", secret: "password" } as const;

/** A field to type into: its name above; below it a hint, and what is wrong, read as a description and not as part of the name. */
export function Field({ words, value, typed, kind = "text", big, long, id, ...notes }: FieldProps) {
  const own = useId();
  const at = id ?? own;
  const shared = {
    id: at,
    value,
    "aria-invalid": notes.fault !== undefined,
    "aria-describedby": notesOf(at, notes),
    onChange: (event: { readonly currentTarget: { readonly value: string } }) => {
      typed(event.currentTarget.value);
    },
  };
  return (
    <div className="field">
      <label htmlFor={at}>{words}</label>
      {long === true ? (
        <textarea rows={2} {...shared} />
      ) : (
        <input
          type={TYPES[kind]}
          autoComplete={kind === "secret" ? "new-password" : "off"}
          inputMode={kind === "figures" ? "decimal" : undefined}
          className={big === true ? "reading" : undefined}
          {...shared}
        />
      )}
      <FieldNotes at={at} {...notes} />
    </div>
  );
}
