import {
  BLANK_CONDITION,
  blankInstrument,
  type ChangeForm,
  changedAt,
  type CommissioningForm,
  type ConditionEntry,
  type InstrumentEntry,
} from "./commissioning-form.ts";
import { FormChoice, FormField } from "./form-field.tsx";

interface FieldsProps {
  readonly form: CommissioningForm;
  readonly change: ChangeForm;
}

/** Who did the work, and on which day. */
export function WhoFields({ form, change }: FieldsProps) {
  return (
    <section className="flow">
      <h2>Who, and when</h2>
      <div className="fields">
        <FormField
          at="on"
          words="Day of the work"
          kind="date"
          value={form.on}
          typed={(on) => {
            change((now) => ({ ...now, on }));
          }}
        />
        <FormField
          at="by.name"
          words="Done by"
          value={form.name}
          typed={(name) => {
            change((now) => ({ ...now, name }));
          }}
        />
        <FormField
          at="by.licence"
          words="Number of the licence"
          hint="as the local law asks for it"
          value={form.licence}
          typed={(licence) => {
            change((now) => ({ ...now, licence }));
          }}
        />
      </div>
    </section>
  );
}

/** Under which conditions it was measured: insulation reads lower when it is wet. */
export function ConditionFields({ form, change }: FieldsProps) {
  const put = (at: number, entry: Partial<ConditionEntry>): void => {
    change((now) => ({ ...now, conditions: changedAt(now.conditions, at, entry) }));
  };
  return (
    <section className="flow">
      <h2 id="field-conditions" tabIndex={-1}>
        Conditions
      </h2>
      {form.conditions.map((one, at) => (
        <fieldset key={at} className="flow entry">
          <legend>{form.conditions.length === 1 ? "When it was measured" : `Time ${at + 1}`}</legend>
          <ConditionRow
            at={`conditions[${at}]`}
            entry={one}
            put={(entry) => {
              put(at, entry);
            }}
          />
          {form.conditions.length === 1 ? null : (
            <button
              type="button"
              className="word"
              onClick={() => {
                change((now) => ({ ...now, conditions: now.conditions.filter((_, other) => other !== at) }));
              }}
            >
              Take time {at + 1} away
            </button>
          )}
        </fieldset>
      ))}
      <button
        type="button"
        onClick={() => {
          change((now) => ({ ...now, conditions: [...now.conditions, BLANK_CONDITION] }));
        }}
      >
        Another time
      </button>
    </section>
  );
}

interface RowProps<Entry> {
  readonly at: string;
  readonly entry: Entry;
  readonly put: (entry: Partial<Entry>) => void;
}

const WETNESS = [
  ["", "Choose"],
  ["dry", "Dry"],
  ["wet", "Wet"],
] as const;

function ConditionRow({ at, entry, put }: RowProps<ConditionEntry>) {
  const field = (name: keyof ConditionEntry, words: string, hint?: string) => (
    <FormField
      at={`${at}.${name}`}
      words={words}
      {...(hint === undefined ? {} : { hint })}
      value={entry[name]}
      kind={name === "time" ? "time" : "text"}
      typed={(value) => {
        put({ [name]: value });
      }}
    />
  );
  return (
    <div className="fields">
      {field("time", "Time of day")}
      <FormChoice
        at={`${at}.array`}
        words="The array was"
        value={entry.array}
        choices={WETNESS}
        chosen={(array) => {
          put({ array });
        }}
      />
      {field("sky", "Sky and rain", "as overcast, clear, after rain")}
      {field("air", "Air, °C")}
      {field("module", "Back of a module, °C")}
      {field("irradiance", "Irradiance, W/m²")}
    </div>
  );
}

/** With what it was measured, and by which calibration that holds. */
export function InstrumentFields({ form, change }: FieldsProps) {
  const put = (at: number, entry: Partial<InstrumentEntry>): void => {
    change((now) => ({ ...now, instruments: changedAt(now.instruments, at, entry) }));
  };
  return (
    <section className="flow">
      <h2 id="field-instruments" tabIndex={-1}>
        Instruments
      </h2>
      {form.instruments.map((one, at) => (
        <fieldset key={at} className="flow entry">
          <legend>Instrument {one.id === "" ? at + 1 : one.id}</legend>
          <InstrumentRow
            at={`instruments[${at}]`}
            entry={one}
            put={(entry) => {
              put(at, entry);
            }}
          />
          {form.instruments.length === 1 ? null : (
            <button
              type="button"
              className="word"
              onClick={() => {
                change((now) => ({
                  ...now,
                  instruments: now.instruments.filter((_, other) => other !== at),
                }));
              }}
            >
              Take instrument {one.id} away
            </button>
          )}
        </fieldset>
      ))}
      <button
        type="button"
        onClick={() => {
          change((now) => ({ ...now, instruments: [...now.instruments, blankInstrument(now.instruments)] }));
        }}
      >
        Another instrument
      </button>
    </section>
  );
}

function InstrumentRow({ at, entry, put }: RowProps<InstrumentEntry>) {
  const field = (name: "id" | "what" | "number" | "calibrated", words: string, hint?: string) => (
    <FormField
      at={`${at}.${name}`}
      words={words}
      {...(hint === undefined ? {} : { hint })}
      value={entry[name]}
      kind={name === "calibrated" ? "date" : "text"}
      typed={(value) => {
        put({ [name]: value });
      }}
    />
  );
  const tick = (name: "provedBefore" | "provedAfter", words: string) => (
    <label className="tick">
      <input
        type="checkbox"
        checked={entry[name]}
        onChange={(event) => {
          put({ [name]: event.currentTarget.checked });
        }}
      />
      {words}
    </label>
  );
  return (
    <>
      <div className="fields">
        {field("what", "Instrument", "what it measures")}
        {field("number", "Its own number")}
        {field("calibrated", "Calibrated on")}
        {field("id", "Letter on this record")}
      </div>
      {tick("provedBefore", "Proved on a known source before")}
      {tick("provedAfter", "Proved on a known source after")}
    </>
  );
}
