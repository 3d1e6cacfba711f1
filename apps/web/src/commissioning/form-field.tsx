import { idOfField, useFieldFault } from "./field-faults.ts";

interface FormFieldProps {
  /** Its place in the form, by which faults find it. */
  readonly at: string;
  readonly words: string;
  readonly hint?: string;
  readonly value: string;
  readonly typed: (value: string) => void;
  readonly kind?: "text" | "date" | "time";
  /** What is read off an instrument. */
  readonly big?: boolean;
  /** Several lines. */
  readonly long?: boolean;
}

/** One field of a form that becomes a record: its name above, what is wrong with it below. */
export function FormField({ at, words, hint, value, typed, kind = "text", big, long }: FormFieldProps) {
  const fault = useFieldFault(at);
  const id = idOfField(at);
  const described = [
    ...(hint === undefined ? [] : [`${id}-hint`]),
    ...(fault === undefined ? [] : [`${id}-fault`]),
  ];
  const shared = {
    id,
    value,
    "aria-invalid": fault !== undefined,
    "aria-describedby": described.length === 0 ? undefined : described.join(" "),
    onChange: (event: { readonly currentTarget: { readonly value: string } }) => {
      typed(event.currentTarget.value);
    },
  };
  return (
    <div className="field">
      <label htmlFor={id}>{words}</label>
      {long === true ? (
        <textarea rows={2} {...shared} />
      ) : (
        <input type={kind} autoComplete="off" className={big === true ? "reading" : undefined} {...shared} />
      )}
      {hint === undefined ? null : (
        <span id={`${id}-hint`} className="hint">
          {hint}
        </span>
      )}
      {fault === undefined ? null : (
        <span id={`${id}-fault`} className="wrong">
          {fault}
        </span>
      )}
    </div>
  );
}

interface FormChoiceProps {
  readonly at: string;
  readonly words: string;
  readonly value: string;
  readonly choices: readonly (readonly [value: string, shown: string])[];
  readonly chosen: (value: string) => void;
}

/** One of a few, in a form that becomes a record. */
export function FormChoice({ at, words, value, choices, chosen }: FormChoiceProps) {
  const fault = useFieldFault(at);
  const id = idOfField(at);
  return (
    <div className="field">
      <label htmlFor={id}>{words}</label>
      <select
        id={id}
        value={value}
        aria-invalid={fault !== undefined}
        aria-describedby={fault === undefined ? undefined : `${id}-fault`}
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
      {fault === undefined ? null : (
        <span id={`${id}-fault`} className="wrong">
          {fault}
        </span>
      )}
    </div>
  );
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
    <fieldset aria-describedby={fault === undefined ? undefined : `${id}-fault`}>
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
      {fault === undefined ? null : (
        <span id={`${id}-fault`} className="wrong">
          {fault}
        </span>
      )}
    </fieldset>
  );
}
