import type { SettingSheet } from "@earthbell/model";
import { useMemo } from "react";
import { go } from "../address/address.ts";
import { Link } from "../address/link.tsx";
import { FieldFaultsShown, fieldFaults, isMissing } from "../commissioning/field-faults.ts";
import { FormField } from "../commissioning/form-field.tsx";
import { WhatIsMissing } from "../commissioning/what-is-missing.tsx";
import { FaultText } from "../desk/fault-text.tsx";
import { useAnswer as useDeskAnswer } from "../desk/use-answer.ts";
import { useAnswer } from "../engine/use-answer.ts";
import { type OpenForm, useKeptForm } from "../keep/use-kept-form.ts";
import { OpenFoldsShown, useOpenFoldsByAddress } from "../page/open-folds.ts";
import { Page } from "../page/page.tsx";
import { State } from "../page/state.tsx";
import { PaperMaker } from "./paper-maker.tsx";
import type { Entered } from "./paper-records.ts";
import { BLANK_SHEET, formOfSheet, type SheetForm, typedSheet } from "./setting-sheet-form.ts";
import { SheetFile } from "./sheet-file.tsx";
import { SheetSteps } from "./sheet-steps.tsx";
import "../commissioning/commissioning.css";

/** A team's own steps for one family of devices, written beside the sheet that they make. */
export default function SettingSheetPage({ id }: { readonly id: string }) {
  const fresh = id === "new";
  const path = fresh ? null : `/api/setting-sheets/${encodeURIComponent(id)}`;
  const { value, fault } = useDeskAnswer<Entered<SettingSheet>>(path, ["paper"]);
  return (
    <Page
      title={fresh ? "A new setting sheet" : `Setting sheet ${id}`}
      under={<Link to="/papers">All papers</Link>}
    >
      <FaultText fault={fault} />
      {fresh ? (
        <Sheet id={id} begins={BLANK_SHEET} newest={null} />
      ) : value !== undefined ? (
        <Sheet id={id} begins={formOfSheet(value.entered, value.revision)} newest={value.revision} />
      ) : fault === null ? (
        <p className="soft">Opening the sheet…</p>
      ) : null}
    </Page>
  );
}

interface SheetProps {
  readonly id: string;
  /** What stands in the form before anything is changed. */
  readonly begins: SheetForm;
  /** Revision that was issued last; null: the sheet is new. */
  readonly newest: number | null;
}

function Sheet({ id, begins, newest }: SheetProps) {
  const kept = useKeptForm<SheetForm>(`setting-sheet ${id}`, begins);
  const { form } = kept;
  if (form === undefined) return <p className="soft">Opening the sheet…</p>;
  return (
    <>
      {newest === null || form.from === newest ? null : (
        <p role="alert">
          <State state="unsure" word="Revised meanwhile" /> What is written here began from revision{" "}
          {form.from}, and revision {newest} has been issued since. The draft says what would change.
        </p>
      )}
      <Maker kept={kept} form={form} fixed={newest !== null} />
    </>
  );
}

interface MakerProps {
  readonly kept: OpenForm<SheetForm>;
  readonly form: SheetForm;
  /** The sheet exists: its id stays, so that what is issued is its next revision. */
  readonly fixed: boolean;
}

function Maker({ kept, form, fixed }: MakerProps) {
  const { change, begun, clear, refused } = kept;
  const typed = useMemo(() => typedSheet(form), [form]);
  const { value, underWay } = useAnswer("judgeSheet", [typed]);
  const faults = value?.faults ?? [];
  const all = fieldFaults(faults, (field) => field);
  const wrong = fieldFaults(
    faults.filter((fault) => !isMissing(fault)),
    (field) => field,
  );
  const ready = (begun || fixed) && value !== null && faults.length === 0;
  return (
    <OpenFoldsShown value={useOpenFoldsByAddress("step")}>
      <FieldFaultsShown value={wrong}>
        <PaperMaker
          asked={ready ? { kind: "setting-sheet", text: value.text } : null}
          formats={["pdf", "html"]}
          mayIssue
          long
          settled={!underWay}
          done={() => {
            void clear().then(() => {
              go("/papers");
            });
          }}
        >
          <p className={refused === null ? "soft" : "wrong"}>
            {refused === null
              ? "What you write is kept in this browser until it is issued. Each issue is the next revision of the same sheet."
              : `This browser could not keep the last change: ${refused}. Save the sheet as a file.`}
          </p>
          <SheetHead form={form} change={change} fixed={fixed} />
          <SheetSteps form={form} change={change} />
          <SheetFile form={form} begun={begun} change={change} text={value?.text ?? ""} fixed={fixed} />
          {begun ? <WhatIsMissing faults={all} nameOf={sheetFieldName} /> : null}
        </PaperMaker>
      </FieldFaultsShown>
    </OpenFoldsShown>
  );
}

const WORDS: Readonly<Record<string, string>> = {
  id: "Short name",
  "device.family": "Device family",
  by: "Written by",
  reviewedOn: "Last read on",
  do: "what to do",
  source: "where it comes from",
};

function sheetFieldName(at: string): string {
  const step = /^steps\[(\d+)\]\.(\w+)$/u.exec(at);
  if (step === null) return WORDS[at] ?? at;
  const [, number = "", field = ""] = step;
  return `Step ${Number(number) + 1}, ${WORDS[field] ?? field}`;
}

function SheetHead({ form, change, fixed }: Omit<MakerProps, "kept"> & Pick<OpenForm<SheetForm>, "change">) {
  const field = (
    name: "id" | "family" | "firmware" | "by" | "reviewedOn",
    at: string,
    words: string,
    hint?: string,
  ) => (
    <FormField
      at={at}
      words={words}
      {...(hint === undefined ? {} : { hint })}
      value={form[name]}
      kind={name === "reviewedOn" ? "date" : "text"}
      typed={(value) => {
        change((now) => ({ ...now, [name]: value }));
      }}
    />
  );
  return (
    <section className="flow">
      <h2>What it is for</h2>
      <div className="fields">
        {fixed ? null : field("id", "id", "Short name", "letters, digits and -; the number of the paper")}
        {field("family", "device.family", "Device family")}
        {field("firmware", "device.firmware", "Firmware it was written for")}
        {field("by", "by", "Written by")}
        {field("reviewedOn", "reviewedOn", "Last read on")}
      </div>
      <FormField
        at="cautions"
        words="Cautions before the device is opened"
        hint="one a line; those of the program stand before them"
        long
        value={form.cautions}
        typed={(cautions) => {
          change((now) => ({ ...now, cautions }));
        }}
      />
    </section>
  );
}
