import { cautionsFor, formatQuantity, type Ohms, parseQuantity } from "@earthbell/engine";
import { useState } from "react";
import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import { DeskFault } from "./ask-desk.ts";
import { type CaseStepProps, stepCase } from "./case-step.ts";
import { FaultText } from "./fault-text.tsx";
import { useAnswer } from "./use-answer.ts";
import { useStep } from "./use-step.ts";

const ohmsWords = (ohms: number): string => formatQuantity(ohms as Ohms, "resistance", { significant: 3 });
const TAGS = ["published", "secondary", "memory", "common practice", "computed", "design choice"] as const;

interface InsulationTest {
  readonly minimumOhms: number;
  readonly source: string;
  readonly tag: string;
}

interface Required {
  readonly value: number;
  readonly source: string;
  readonly tag: string;
}

interface Looked {
  /** null: no rule pack says, or the desk could not tell. */
  readonly known: Required | null;
  readonly underWay: boolean;
}

/** What the array has to reach today, by the rules of the desk. */
function useRequired({ site, array }: CaseStepProps["one"]): Looked {
  const path = `/api/sites/${encodeURIComponent(site)}/insulation-tests`;
  const { value, fault } = useAnswer<Readonly<Record<string, InsulationTest | null>>>(path, [
    "site",
    "watch",
  ]);
  const test = value?.[array] ?? null;
  return {
    known: test === null ? null : { value: test.minimumOhms, source: test.source, tag: test.tag },
    underWay: value === undefined && fault === null,
  };
}

function resistance(typed: string, of: string): number {
  const parsed = parseQuantity(typed.trim(), "resistance");
  if (parsed.ok) return parsed.value;
  throw new DeskFault("PAGE_VALUE_UNCLEAR", `${of}: write a number and its unit, such as 12 MΩ or 850 kohm.`);
}

/** The insulation measured after the repair, with what it has to reach and by which source. Cautions come first. */
export function CaseMeasure({ one, done }: CaseStepProps) {
  const { known, underWay } = useRequired(one);
  const [typed, setTyped] = useState("");
  const [least, setLeast] = useState("");
  const [source, setSource] = useState("");
  const [tag, setTag] = useState<string>("published");
  const { busy, fault, said, take } = useStep();
  const record = async (): Promise<string> => {
    const required = known ?? { value: resistance(least, "Required"), source, tag };
    return await stepCase(one, { step: "measure-insulation", ohms: resistance(typed, "Measured"), required });
  };
  return (
    <section className="flow">
      <h2>Measure the insulation</h2>
      <TestCautions />
      <form
        className="flow"
        onSubmit={(event) => {
          event.preventDefault();
          take(record, done);
        }}
      >
        <div className="narrow">
          <Field words="Measured" hint="with its unit, such as 12 MΩ" value={typed} typed={setTyped} />
        </div>
        {underWay ? (
          <p className="soft">Looking up what it has to reach…</p>
        ) : known === null ? (
          <div className="fields">
            <Field words="Required" hint="with its unit" value={least} typed={setLeast} />
            <Field words="By which source" value={source} typed={setSource} />
            <Choice
              words="Kind of source"
              value={tag}
              choices={TAGS.map((kind) => [kind, kind])}
              chosen={setTag}
            />
          </div>
        ) : (
          <RequiredLine {...known} />
        )}
        <button type="submit" disabled={busy || underWay || typed.trim() === ""}>
          Put the measurement on record
        </button>
        <FaultText fault={fault} />
        {said === null ? null : <p>{said}</p>}
      </form>
    </section>
  );
}

function TestCautions() {
  return (
    <details open>
      <summary>Cautions of the test; read them before it</summary>
      <ul>
        {cautionsFor("insulation-test").map(({ id, text }) => (
          <li key={id}>{text}</li>
        ))}
      </ul>
    </details>
  );
}

function RequiredLine({ value, source, tag }: Required) {
  return (
    <p>
      Required: <span className="figure">{ohmsWords(value)}</span>{" "}
      <span className="small soft">
        {source} ({tag})
      </span>
    </p>
  );
}

/** That the owner was told of the signed cause, and with which paper. */
export function CaseOwner({ one, me, done }: CaseStepProps) {
  const [document, setDocument] = useState("");
  const { busy, fault, said, take } = useStep();
  return (
    <section className="flow controls">
      <h2>Tell the owner</h2>
      <form
        className="flow"
        onSubmit={(event) => {
          event.preventDefault();
          const paper = document.trim() === "" ? null : document.trim();
          take(async () => await stepCase(one, { step: "tell-owner", document: paper }), done);
        }}
      >
        <div className="narrow">
          <Field
            words="Paper handed over"
            hint="its number or name; blank without one"
            value={document}
            typed={setDocument}
          />
        </div>
        <button type="submit" disabled={busy}>
          The owner has been told by {me.name}
        </button>
        <FaultText fault={fault} />
        {said === null ? null : <p>{said}</p>}
      </form>
    </section>
  );
}
