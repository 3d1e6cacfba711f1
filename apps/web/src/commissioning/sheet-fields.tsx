import { CAUTIONS } from "@earthbell/engine";
import { SETTING_CAUTIONS } from "@earthbell/model";
import { useState } from "react";
import { readDesk } from "../desk/ask-desk.ts";
import { FaultText } from "../desk/fault-text.tsx";
import { useAnswer } from "../desk/use-answer.ts";
import { useStep } from "../desk/use-step.ts";
import { announce } from "../page/announce.tsx";
import { Choice } from "../page/choice.tsx";
import { counted } from "../page/counted.ts";
import { State } from "../page/state.tsx";
import type { ChangeForm, CommissioningForm } from "./commissioning-form.ts";
import { FormField } from "./form-field.tsx";
import { SheetStepFields } from "./sheet-step-fields.tsx";
import { retaken, type SheetAtDesk, type SheetEntry, untickedSheet, withWords } from "./ticked-sheet.ts";

interface SheetsProps {
  readonly site: string;
  readonly form: CommissioningForm;
  readonly change: ChangeForm;
}

const pathOf = (site: string): string => `/api/sites/${encodeURIComponent(site)}/setting-sheets`;

/** The team's own sheets that were worked through at this commissioning, ticked step by step. */
export function SheetFields({ site, form, change }: SheetsProps) {
  return (
    <section className="flow">
      <h2 id="field-settings" tabIndex={-1}>
        Setting sheets
      </h2>
      <p className="soft">
        The team's own steps for making a device send, switch or show the alarm. What is ticked here is bound
        into the record.
      </p>
      {form.settings.map((entry, at) => (
        <OneSheet
          key={entry.key}
          {...{ site, entry, at }}
          name={form.name}
          put={(now) => {
            change((all) => ({
              ...all,
              settings: all.settings.map((one) => (one.key === entry.key ? now(one) : one)),
            }));
          }}
          remove={() => {
            change((all) => ({ ...all, settings: all.settings.filter(({ key }) => key !== entry.key) }));
            announce(`Sheet ${entry.sheet} is taken out of the form.`);
          }}
        />
      ))}
      <ChooseSheet
        site={site}
        chosen={(held) => {
          change((all) => ({
            ...all,
            settings: [...all.settings, untickedSheet(held, crypto.randomUUID())],
          }));
          announce(`Sheet ${held.sheet} is in the form, ${counted(held.holds.steps.length, "step")}.`);
        }}
      />
    </section>
  );
}

interface ChooseProps {
  readonly site: string;
  readonly chosen: (held: SheetAtDesk) => void;
}

function ChooseSheet({ site, chosen }: ChooseProps) {
  const { value: sheets, fault } = useAnswer<readonly Omit<SheetAtDesk, "holds">[]>(pathOf(site), ["paper"]);
  const [picked, setPicked] = useState("");
  const { busy, fault: refused, take } = useStep();
  if (sheets === undefined) return <FaultText fault={fault} />;
  if (sheets.length === 0) return <p>The desk holds no setting sheet yet; they are written under Papers.</p>;
  return (
    <>
      <div className="fields">
        <Choice
          words="A sheet to tick"
          value={picked}
          choices={[
            ["", "Choose"],
            ...sheets.map(({ sheet, family, revision }) => {
              return [sheet, `${sheet}, revision ${revision ?? "?"}: ${family}`] as const;
            }),
          ]}
          chosen={setPicked}
        />
      </div>
      <button
        type="button"
        disabled={picked === "" || busy}
        onClick={() => {
          take(async () => {
            chosen(await readDesk<SheetAtDesk>(`${pathOf(site)}/${encodeURIComponent(picked)}`));
            setPicked("");
            return null;
          });
        }}
      >
        Put it into the form
      </button>
      <FaultText fault={refused} />
    </>
  );
}

interface OneSheetProps {
  readonly site: string;
  readonly entry: SheetEntry;
  readonly at: number;
  /** Who does the work. */
  readonly name: string;
  readonly put: (how: (entry: SheetEntry) => SheetEntry) => void;
  readonly remove: () => void;
}

function OneSheet({ site, entry, at, name, put, remove }: OneSheetProps) {
  const path = `${pathOf(site)}/${encodeURIComponent(entry.sheet)}`;
  const { value: held } = useAnswer<SheetAtDesk>(path, ["paper"]);
  const { sheet, revision } = entry;
  // A file of results has no cautions: they come from the desk, where it holds the very same sheet.
  const shown = entry.cautions === null ? (withWords(entry, held) ?? entry) : entry;
  const done = entry.steps.filter(({ ticked }) => ticked).length;
  const all = done === entry.steps.length;
  return (
    <fieldset className="flow entry">
      <legend>
        Sheet {sheet}
        {revision === null ? "" : `, revision ${revision}`}
      </legend>
      <p>
        <State state={all ? "proven" : "must"} word={all ? "All ticked" : "Not complete"} /> {done} of{" "}
        {counted(entry.steps.length, "step")} ticked. <span className="soft">{entry.title}</span>
      </p>
      {held === undefined || held.digest === entry.digest ? null : <Changed {...{ entry, held, put }} />}
      <Before cautions={shown.cautions} />
      <div className="fields">
        {(
          [
            ["device", "Device", "which one, where the site has several"],
            ["firmware", "Firmware found", "as the device shows it"],
          ] as const
        ).map(([field, words, hint]) => (
          <FormField
            key={field}
            at={`settings[${at}].${field}`}
            {...{ words, hint }}
            value={entry[field]}
            typed={(value) => {
              put((one) => ({ ...one, [field]: value }));
            }}
          />
        ))}
      </div>
      {shown.steps.map((step, number) => (
        <SheetStepFields
          key={number}
          {...{ step, number: number + 1, name }}
          at={`settings[${at}].steps[${number}]`}
          put={(how) => {
            put((one) => ({
              ...one,
              steps: one.steps.map((other, place) => (place === number ? how(other) : other)),
            }));
          }}
        />
      ))}
      <button type="button" className="word" onClick={remove}>
        Take sheet {sheet} out of the form
      </button>
    </fieldset>
  );
}

/** The sheet was revised since: the ticks stand for the words that were read, until somebody takes the new ones. */
function Changed({
  entry,
  held,
  put,
}: Pick<OneSheetProps, "entry" | "put"> & { readonly held: SheetAtDesk }) {
  const now = held.revision ?? "?";
  return (
    <div role="alert">
      <p>
        <State state="unsure" word="Changed since" /> Revision {now} of sheet {entry.sheet} holds other words.
        The record says so as long as the ticks are of the words below.
      </p>
      <button
        type="button"
        onClick={() => {
          put((one) => retaken(one, held));
          announce(`The steps are those of revision ${now}. Ticks of steps that changed are gone.`);
        }}
      >
        Take the steps of revision {now}; ticks of changed steps go
      </button>
    </div>
  );
}

/** What has to be read before the first step. */
function Before({ cautions }: Pick<SheetEntry, "cautions">) {
  const ours = CAUTIONS.filter(({ id }) => SETTING_CAUTIONS.includes(id)).map(({ text }) => text);
  return (
    <>
      <p>
        <State state="must" word="Read first" />
      </p>
      <ul className="plain index">
        {[...ours, ...(cautions ?? [])].map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
      {cautions === null ? (
        <p className="wrong">
          The sheet's own cautions are not at hand: the desk does not hold these very words. Read them on the
          sheet before any step.
        </p>
      ) : null}
    </>
  );
}
