import type { Reading, RequestedReading } from "@earthbell/engine";
import { type SubmitEvent, useEffect, useId, useRef, useState } from "react";
import { useTheme } from "../look/theme.ts";
import { useNarrow } from "../page/use-narrow.ts";
import { useHeldOnScreen } from "./held-on-screen.ts";
import { NumberPad } from "./number-pad.tsx";
import { enteredReading, requestWords, unitsFor } from "./reading-field.ts";

interface ReadingEntryProps {
  readonly request: RequestedReading;
  /** "2 of 5". */
  readonly count: string;
  readonly value: string;
  readonly typed: (value: string) => void;
  readonly taken: (reading: Reading) => void;
  /** The field takes the focus: a reading was just taken, or the roof's number pad is open. */
  readonly atHand: boolean;
}

/** One reading: what to touch, a field, its unit. In roof mode the number pad is open and the device's own stays away. */
export function ReadingEntry({ request, count, value, typed, taken, atHand }: ReadingEntryProps) {
  const id = useId();
  const form = useRef<HTMLFormElement>(null);
  const field = useRef<HTMLInputElement>(null);
  const units = unitsFor(request);
  const [unit, setUnit] = useState(units[0]!);
  const [wrong, setWrong] = useState<string | null>(null);
  const roof = useTheme() === "roof";
  const small = useNarrow("screen");
  const words = requestWords(request);
  useEffect(() => {
    setWrong(null);
    if (atHand) field.current?.focus();
  }, [words, atHand]);
  // The focus brings the field on the screen; what takes the reading, and on the roof its pad, belong to it.
  // With the roof's pad it is another thing to hold than without.
  useHeldOnScreen(form, (roof || small) && atHand ? `${words} ${roof ? "with its pad" : ""}` : null);
  const take = (event: SubmitEvent): void => {
    event.preventDefault();
    const entered = enteredReading(request, value, unit);
    if (entered.ok) taken(entered.reading);
    else setWrong(entered.message);
  };
  return (
    <form ref={form} className="entry flow" onSubmit={take} noValidate>
      <label className="lead" htmlFor={id}>
        <span className="soft">Reading {count} </span>
        <strong>{words}</strong>
      </label>
      <div className="row entry-line">
        <input
          id={id}
          ref={field}
          className="figure big"
          inputMode={roof ? "none" : "decimal"}
          enterKeyHint="next"
          autoComplete="off"
          value={value}
          aria-invalid={wrong !== null}
          aria-describedby={wrong === null ? undefined : `${id}-wrong`}
          onChange={(event) => {
            typed(event.currentTarget.value);
          }}
        />
        <Units {...{ units, unit, setUnit }} />
      </div>
      {wrong === null ? null : (
        <p id={`${id}-wrong`} className="wrong" role="alert">
          {wrong}
        </p>
      )}
      {roof ? <NumberPad value={value} typed={typed} /> : null}
      <button type="submit" className="main">
        Take this reading
      </button>
    </form>
  );
}

interface UnitsProps {
  readonly units: readonly string[];
  readonly unit: string;
  readonly setUnit: (unit: string) => void;
}

function Units({ units, unit, setUnit }: UnitsProps) {
  return (
    <span className="units" role="group" aria-label="Unit">
      {units.map((one) => (
        <button
          key={one}
          type="button"
          aria-pressed={one === unit}
          onClick={() => {
            setUnit(one);
          }}
        >
          {one}
        </button>
      ))}
    </span>
  );
}
