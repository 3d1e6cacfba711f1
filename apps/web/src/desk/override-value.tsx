import { directionOf, type OverridableValue } from "@earthbell/engine";
import { useState } from "react";
import { Field } from "../page/field.tsx";
import { InputFaults } from "../page/input-faults.tsx";
import { State } from "../page/state.tsx";
import { withDecimalPoint } from "../page/typed-number.ts";
import type { OverrideLine } from "../rules/desk-rules.ts";
import { tellDesk } from "./ask-desk.ts";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import { type Stepping, useStep } from "./use-step.ts";

interface OverrideValueProps {
  readonly pack: string;
  /** The value as the pack itself has it. */
  readonly of: OverridableValue;
  /** The override in force; null: none. */
  readonly line: OverrideLine | null;
  /** May override. */
  readonly may: boolean;
  readonly done: () => void;
}

/** What replaces a value of a pack, by whom and why, and the way to replace it or to take that back. */
export function OverrideValue({ pack, of, line, may, done }: OverrideValueProps) {
  const [open, setOpen] = useState<"change" | "end" | null>(null);
  const name = nameOf(of);
  const toggle = (which: "change" | "end") => (): void => {
    setOpen(open === which ? null : which);
  };
  return (
    <>
      {line === null ? null : line.setAside !== null ? (
        <p>
          <State state="must" word="Override set aside" /> {name}: {line.setAside.text}
        </p>
      ) : (
        <p>
          <State state="unsure" word="Overridden" /> {name} <span className="figure">{line.value}</span>{" "}
          {of.unit} in place of <span className="figure">{line.replaced}</span> {of.unit}, by {line.by},{" "}
          {instantWords(line.putAt)}: {line.because} (from {line.source})
        </p>
      )}
      {may ? (
        <p className="row">
          <button type="button" className="word" aria-expanded={open === "change"} onClick={toggle("change")}>
            {line === null ? "Override…" : "Override again…"}
            <span className="unseen"> {name}</span>
          </button>
          {line === null ? null : (
            <button type="button" className="word" aria-expanded={open === "end"} onClick={toggle("end")}>
              Take it back…<span className="unseen"> {name}</span>
            </button>
          )}
        </p>
      ) : null}
      {open === "change" ? <Change pack={pack} of={of} line={line} done={done} /> : null}
      {open === "end" && line !== null ? <TakeBack line={line} of={of} done={done} /> : null}
    </>
  );
}

function nameOf({ says, unit }: OverridableValue): string {
  return unit === "" ? says : `${says} [${unit}]`;
}

function Change({ pack, of, line, done }: Omit<OverrideValueProps, "may">) {
  const [typed, setTyped] = useState(line === null ? "" : String(line.value));
  const [because, setBecause] = useState("");
  const [source, setSource] = useState("");
  const [confirmed, setConfirmed] = useState(false);
  const step = useStep();
  const value = numberIn(typed);
  const direction = value === null ? null : directionOf(of, value);
  const doubtful = direction === "weaker" || direction === "unknown";
  const put = async (): Promise<string> => {
    const asked = { pack, field: of.field, value, because, source, confirmed, instead: line?.id ?? null };
    return (await tellDesk("/api/rules/overrides", asked)).text;
  };
  return (
    <form
      className="flow narrow"
      onSubmit={(event) => {
        event.preventDefault();
        step.take(put, done);
      }}
    >
      <Field
        words={`New value${of.unit === "" ? "" : `, ${of.unit}`}`}
        hint={`a plain number; the pack itself says ${of.value}${of.unit === "" ? "" : ` ${of.unit}`}`}
        value={typed}
        typed={setTyped}
        kind="figures"
      />
      {typed.trim() !== "" && value === null ? (
        <p className="wrong" role="alert">
          This is no plain number. Write it as 1000 or 1.5.
        </p>
      ) : null}
      <Field words="Why" hint="stands wherever the value is used" value={because} typed={setBecause} />
      <Field
        words="From"
        hint="document, letter or clause that somebody can look up"
        value={source}
        typed={setSource}
      />
      {doubtful ? (
        <Doubt of={of} weaker={direction === "weaker"} confirmed={confirmed} confirm={setConfirmed} />
      ) : null}
      <button type="submit" disabled={step.busy || value === null || (doubtful && !confirmed)}>
        Override for the whole desk
      </button>
      <Refused step={step} pack={pack} />
    </form>
  );
}

/** A number as people type it; null where it is none. */
function numberIn(typed: string): number | null {
  const text = withDecimalPoint(typed.replace(/[ \u00a0]/gu, ""));
  return /^\d+(?:\.\d+)?$/u.test(text) ? Number(text) : null;
}

interface DoubtProps {
  readonly of: OverridableValue;
  readonly weaker: boolean;
  readonly confirmed: boolean;
  readonly confirm: (yes: boolean) => void;
}

/** Said before anything is saved: this asks for less than what was published. */
function Doubt({ of, weaker, confirmed, confirm }: DoubtProps) {
  return (
    <div className="doubt flow">
      <p>
        <State state="fault" word={weaker ? "Weaker than the pack" : "Neither way is safe by itself"} />{" "}
        {weaker
          ? `With this value the desk lets pass what the pack would not: a fault may stay unseen or unheard at every site that the pack binds. The pack itself says ${of.value} ${of.unit}.`
          : `Too low may miss a fault, too high may harm what is tested. The pack itself says ${of.value} ${of.unit}.`}
      </p>
      <label className="tick">
        <input
          type="checkbox"
          checked={confirmed}
          onChange={(event) => {
            confirm(event.currentTarget.checked);
          }}
        />
        <span>I have looked at the source again, and I answer for this value</span>
      </label>
    </div>
  );
}

interface TakeBackProps {
  readonly line: OverrideLine;
  /** null: the pack has no such value any more. */
  readonly of: OverridableValue | null;
  readonly done: () => void;
}

/** Takes an override back, with the reason. */
export function TakeBack({ line, of, done }: TakeBackProps) {
  const [because, setBecause] = useState("");
  const step = useStep();
  return (
    <form
      className="flow narrow"
      onSubmit={(event) => {
        event.preventDefault();
        step.take(
          async () => (await tellDesk(`/api/rules/overrides/${line.id}/end`, { because })).text,
          done,
        );
      }}
    >
      {of === null ? null : (
        <p>
          The pack’s own value {line.setAside === null ? "is in force again" : "holds already"}: {of.value}{" "}
          {of.unit}.
        </p>
      )}
      <Field words="Why it is taken back" value={because} typed={setBecause} />
      <button type="submit" disabled={step.busy || because.trim().length < 3}>
        Take the override back
      </button>
      <Refused step={step} pack="" />
    </form>
  );
}

function Refused({ step: { fault, said }, pack }: { readonly step: Stepping; readonly pack: string }) {
  if (fault !== null && fault.faults.length > 0)
    return <InputFaults file={`The override of ${pack}`} faults={fault.faults} />;
  return (
    <>
      <FaultText fault={fault} />
      {said === null ? null : <p>{said}</p>}
    </>
  );
}
