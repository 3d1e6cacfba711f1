import { type Ohms, parseQuantity, type PvArray, type Volts } from "@earthbell/engine";
import { type ReactNode, type SubmitEvent, useEffect, useState } from "react";
import { go } from "../address/address.ts";
import type { KeptSite, KeptVisit } from "../keep/kept.ts";
import { keepForGood } from "../keep/offline.ts";
import { useDesk, useKept } from "../keep/use-desk.ts";
import { Field } from "../page/field.tsx";
import { Page } from "../page/page.tsx";
import { withDecimalPoint } from "../page/typed-number.ts";
import { useWork } from "../page/use-work.tsx";
import { keptVisit, newId, stringsOf, visitFrom } from "./begin-visit.ts";
import { alreadyRead } from "./read-at-case.ts";
import { StringRows, type StringRow } from "./string-rows.tsx";

interface Form {
  readonly title: string;
  readonly rows: readonly StringRow[];
  readonly joined: boolean;
  readonly diodes: boolean;
  readonly substrings: string;
  readonly moduleVoc: string;
  readonly meterInput: string;
  readonly tester: boolean;
  readonly clamp: boolean;
  readonly wet: boolean;
}

const BLANK: Form = {
  title: "",
  rows: [{ id: "S1", modules: "" }],
  joined: false,
  diodes: false,
  substrings: "3",
  moduleVoc: "",
  meterInput: "10",
  tester: false,
  clamp: false,
  wet: false,
};

/** What is wrong with the form, each in a sentence; empty when a visit can begin. */
function faultsOf(form: Form): readonly string[] {
  const ids = form.rows.map(({ id }) => id.trim());
  const named = /^[A-Za-z0-9][A-Za-z0-9 ._-]{0,39}$/u;
  return [
    ...ids
      .filter((id) => !named.test(id))
      .map((id) => `"${id}" is no name of a string: letters, figures, point, dash.`),
    ...(new Set(ids).size < ids.length ? ["Two strings have the same name."] : []),
    ...form.rows
      .filter(({ modules }) => !whole(modules, 1, 200))
      .map(({ id }) => `${id}: the number of modules in series is a whole number from 1 to 200.`),
    ...(whole(form.substrings, 1, 24)
      ? []
      : ["Sub-strings of a module: a whole number from 1 to 24; most have 3."]),
    ...(form.moduleVoc === "" || positive(form.moduleVoc)
      ? []
      : ["The voltage of a module is a positive number of volts, or blank."]),
    ...(form.meterInput === "" || positive(form.meterInput)
      ? []
      : ["The meter's input resistance is a positive number of megohms, or blank."]),
  ];
}

/** The strings of an array of a site. */
function formOf(name: string, array: PvArray): Pick<Form, "title" | "rows" | "joined"> {
  const rows = stringsOf(array).map(({ id, modules }) => ({ id, modules: String(modules) }));
  return { title: `${name}, ${array.id}`, rows, joined: rows.length > 1 };
}

const whole = (text: string, least: number, most: number): boolean =>
  /^\d+$/u.test(text.trim()) && Number(text) >= least && Number(text) <= most;
const positive = (text: string): boolean => Number(withDecimalPoint(text)) > 0;

function quantity(text: string, unit: string, dimension: "voltage" | "resistance"): number | null {
  const parsed = parseQuantity(`${withDecimalPoint(text)} ${unit}`, dimension);
  return text !== "" && parsed.ok ? parsed.value : null;
}

function visitOf(form: Form, now: Date, place: KeptVisit["place"]): KeptVisit {
  const strings = form.rows.map(({ id, modules }) => ({ id: id.trim(), modules: Number(modules) }));
  const visit = visitFrom({
    ...form,
    strings,
    substrings: Number(form.substrings),
    moduleVoc: quantity(form.moduleVoc, "V", "voltage") as Volts | null,
    meterInput: quantity(form.meterInput, "MΩ", "resistance") as Ohms | null,
  });
  const title = form.title.trim() === "" ? `Visit of ${now.toLocaleDateString()}` : form.title.trim();
  return keptVisit({
    ...{ id: newId(), title, now: now.toISOString() },
    ...{ visit, place, read: alreadyRead(place?.case ?? null) },
  });
}

interface NewVisitProps {
  /** A site of the desk, to which the visit is handed over. */
  readonly site: string | null;
  readonly array: string | null;
  /** The case for which somebody goes there. */
  readonly of: string | null;
}

export default function NewVisit({ site: siteId, array: arrayId, of }: NewVisitProps) {
  const desk = useDesk();
  const { start, failure } = useWork();
  const [form, setForm] = useState<Form>(BLANK);
  const [faults, setFaults] = useState<readonly string[]>([]);
  const sites = useKept((from) => from.sites.all(), "sites") ?? [];
  const set = (part: Partial<Form>): void => {
    setForm({ ...form, ...part });
  };
  const known = sites.find(({ id }) => id === siteId);
  const fromFile = known?.site.arrays.some(({ id }) => id === arrayId) === true;
  useEffect(() => {
    const array = known?.site.arrays.find(({ id }) => id === arrayId);
    if (known !== undefined && array !== undefined)
      setForm((now) => ({ ...now, ...formOf(known.name, array) }));
  }, [known?.id, arrayId]);
  const begin = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const found = faultsOf(form);
    setFaults(found);
    if (found.length > 0) return;
    const place = siteId === null ? null : { site: siteId, case: of };
    const kept = visitOf(form, new Date(), place);
    await desk.visits.keep(kept);
    void keepForGood();
    go(`/visits/${kept.id}`);
  };
  return (
    <Page
      title="Begin a visit"
      under={`${fromFile ? "" : "The strings and what you measure with. "}Leave as it stands what you are unsure of.`}
    >
      {arrayId === null ? (
        <FromSites sites={sites.filter(({ id }) => siteId === null || id === siteId)} set={set} />
      ) : null}
      <form
        className="flow"
        noValidate
        onSubmit={(event) => {
          start(begin(event));
        }}
      >
        <Folded words={fromFile ? stringsWords(form.rows) : null}>
          <Field
            words="Where"
            hint="site and array"
            value={form.title}
            typed={(title) => {
              set({ title });
            }}
          />
          <StringRows
            rows={form.rows}
            changed={(rows) => {
              set({ rows, joined: rows.length > 1 ? form.joined : false });
            }}
          />
        </Folded>
        <Conditions {...{ form, set, fromFile }} />
        <Faults faults={faults} />
        {failure}
        <button type="submit" className="main">
          Begin
        </button>
      </form>
    </Page>
  );
}

/** "3 strings: S1, S2, S3", as its site file says; what is known need not be gone through again. */
function stringsWords(rows: Form["rows"]): string {
  const named = rows.map(({ id }) => id).join(", ");
  return `${rows.length} ${rows.length === 1 ? "string" : "strings"} by the site file: ${named}`;
}

interface FoldedProps {
  /** What is folded away; null: nothing is. */
  readonly words: string | null;
  readonly children: ReactNode;
}

function Folded({ words, children }: FoldedProps) {
  if (words === null) return children;
  return (
    <details>
      <summary>{words}</summary>
      <div className="flow">{children}</div>
    </details>
  );
}

interface ConditionsProps {
  readonly form: Form;
  readonly set: (part: Partial<Form>) => void;
  /** The strings are those of a site file. */
  readonly fromFile: boolean;
}

function Conditions({ form, set, fromFile }: ConditionsProps) {
  const tick = (name: "joined" | "diodes" | "tester" | "clamp" | "wet", words: string) => (
    <label className="choice">
      <input
        type="checkbox"
        checked={form[name]}
        onChange={(event) => {
          set({ [name]: event.currentTarget.checked });
        }}
      />
      <span>{words}</span>
    </label>
  );
  const number = (name: "substrings" | "moduleVoc" | "meterInput", words: string, hint: string) => (
    <Field
      {...{ words, hint }}
      kind="figures"
      value={form[name]}
      typed={(value) => {
        set({ [name]: value });
      }}
    />
  );
  return (
    <>
      <fieldset>
        <legend>As it stands now</legend>
        {form.rows.length > 1 ? tick("joined", "The strings are joined at a combiner") : null}
        {form.joined ? tick("diodes", "through blocking diodes") : null}
        {tick("wet", "The array is wet")}
      </fieldset>
      <fieldset>
        <legend>Besides the voltmeter you have</legend>
        {tick("tester", "An insulation tester")}
        {tick("clamp", "A leakage clamp for small direct currents")}
      </fieldset>
      <Folded words={fromFile ? "Figures of meter and modules" : null}>
        <div className="fields">
          {number("meterInput", "Input resistance of the meter, MΩ", "from its data sheet; 10 MΩ is common")}
          {number("moduleVoc", "Open-circuit voltage of a module now, V", "leave blank: + to − will tell")}
          {number("substrings", "Sub-strings in a module", "bypass diodes; 3 is common")}
        </div>
      </Folded>
    </>
  );
}

interface FromSitesProps {
  readonly sites: readonly KeptSite[];
  readonly set: (part: Partial<Form>) => void;
}

function FromSites({ sites, set }: FromSitesProps) {
  return (
    <>
      {sites.map((site) =>
        site.site.arrays.map((array) => (
          <p key={`${site.id} ${array.id}`}>
            <button
              type="button"
              onClick={() => {
                set(formOf(site.name, array));
              }}
            >
              Take the strings of {site.name}, array {array.id}
            </button>
          </p>
        )),
      )}
    </>
  );
}

function Faults({ faults }: { readonly faults: readonly string[] }) {
  if (faults.length === 0) return null;
  return (
    <ul role="alert" className="wrong">
      {faults.map((fault) => (
        <li key={fault}>{fault}</li>
      ))}
    </ul>
  );
}
