import { State } from "../page/state.tsx";
import { idOfField } from "./field-faults.ts";
import { FormField } from "./form-field.tsx";
import { type StepWords, type TickEntry, tickedNow, unticked } from "./ticked-sheet.ts";

interface StepProps {
  readonly step: TickEntry;
  readonly number: number;
  /** Its place in the form. */
  readonly at: string;
  /** Who does the work. */
  readonly name: string;
  readonly put: (how: (step: TickEntry) => TickEntry) => void;
}

/** One step of a setting sheet: its caution, what to do, its tick, or why it was not done. */
export function SheetStepFields({ step, number, at, name, put }: StepProps) {
  const { words, ticked, found, because } = step;
  return (
    <fieldset className="flow proof-line">
      <legend>Step {number}</legend>
      {words.caution === undefined ? null : (
        <p>
          <State state="must" word="Read first" /> {words.caution}
        </p>
      )}
      <p className="lead">{words.do}</p>
      <Notes words={words} />
      {words.value === undefined && found === "" ? null : (
        <FormField
          at={`${at}.found`}
          words="Found or set"
          hint="as the device shows it, with its unit"
          value={found}
          typed={(value) => {
            put((one) => ({ ...one, found: value }));
          }}
        />
      )}
      <label className="tick">
        <input
          type="checkbox"
          id={idOfField(`${at}.done`)}
          checked={ticked}
          onChange={(event) => {
            const now = event.currentTarget.checked;
            put((one) => (now ? tickedNow(one, name.trim(), new Date()) : unticked(one)));
          }}
        />
        <span>Step {number} is done</span>
      </label>
      {ticked ? (
        <TickedBy step={step} at={at} name={name} put={put} />
      ) : (
        <FormField
          at={`${at}.because`}
          words="Not done, because"
          hint="empty as long as it is still to be done"
          value={because}
          typed={(value) => {
            put((one) => ({ ...one, because: value }));
          }}
        />
      )}
    </fieldset>
  );
}

function Notes({ words: { shows, value, why, source, tag } }: { readonly words: StepWords }) {
  const notes = [
    ...(shows === undefined ? [] : [`Shows: ${shows}.`]),
    ...(value === undefined ? [] : [`Set to: ${value}.`]),
    ...(why === undefined ? [] : [`Why: ${why}.`]),
  ].join(" ");
  if (notes === "" && source === undefined) return null;
  return (
    <p>
      {notes}{" "}
      {source === undefined ? null : (
        <span className="small soft">
          {source} ({tag})
        </span>
      )}
    </p>
  );
}

/** Who ticked it is asked for only where nobody is named as doing the work. */
function TickedBy({ step, at, name, put }: Omit<StepProps, "number">) {
  const { by: typed, on, at: time } = step;
  const who = typed === "" ? name.trim() : typed;
  if (name.trim() !== "")
    return (
      <p className="soft">
        Ticked by {who}, {[on, time].filter((one) => one !== "").join(", ")}
      </p>
    );
  return (
    <FormField
      at={`${at}.by`}
      words="Ticked by"
      hint="or fill in Done by, above"
      value={typed}
      typed={(value) => {
        put((one) => ({ ...one, by: value }));
      }}
    />
  );
}
