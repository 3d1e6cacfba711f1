import type { ProofPlan } from "@earthbell/engine";
import { useMemo, useState } from "react";
import { go } from "../address/address.ts";
import { Link } from "../address/link.tsx";
import { FaultText } from "../desk/fault-text.tsx";
import type { Me } from "../desk/records.ts";
import { useSiteFile } from "../desk/site-file.ts";
import { useAnswer } from "../engine/use-answer.ts";
import { type OpenForm, useKeptForm } from "../keep/use-kept-form.ts";
import { Page } from "../page/page.tsx";
import { PaperMaker } from "../papers/paper-maker.tsx";
import { useDeskRules } from "../rules/desk-rules.ts";
import { BLANK_FORM, type CommissioningForm } from "./commissioning-form.ts";
import { SignatureFields } from "./drill-fields.tsx";
import { FieldFaultsShown, idOfField } from "./field-faults.ts";
import { fieldName } from "./field-names.ts";
import { OpenFoldsShown, useOpenFoldsByAddress } from "../page/open-folds.ts";
import { ProofFields } from "./proof-steps.tsx";
import { plannedProofs } from "./proof-lines.ts";
import { ResultsFile } from "./results-file.tsx";
import { SheetFields } from "./sheet-fields.tsx";
import { type Told, useJudged } from "./use-judged.ts";
import { WhatIsMissing } from "./what-is-missing.tsx";
import { ConditionFields, InstrumentFields, WhoFields } from "./work-fields.tsx";
import "./commissioning.css";

interface CommissioningPageProps {
  readonly id: string;
  readonly me: Me;
}

/** What was measured at a commissioning, entered step by step beside the record that it makes. */
export default function CommissioningPage({ id, me }: CommissioningPageProps) {
  const kept = useKeptForm<CommissioningForm>(`commissioning ${id}`, BLANK_FORM);
  const { site, fault } = useSiteFile(id);
  const rules = useDeskRules();
  const on = kept.form?.on ?? "";
  const { value: plan, failed } = useAnswer("provePlan", site === undefined ? null : [site, on, rules]);
  return (
    <Page
      title={`Commissioning of ${id}`}
      under={<Link to={`/papers/${encodeURIComponent(id)}`}>The papers of the site</Link>}
    >
      <FaultText fault={fault} />
      {failed === null ? null : <p className="wrong">{failed}</p>}
      {plan === null || kept.form === undefined ? (
        fault === null && failed === null ? (
          <p className="soft">Working out the steps…</p>
        ) : null
      ) : plan.proofs.length === 0 ? (
        <p>The site file names no path that serves an array, so there is nothing to prove.</p>
      ) : (
        <Maker site={id} plan={plan} kept={kept} form={kept.form} me={me} />
      )}
    </Page>
  );
}

interface MakerProps {
  readonly site: string;
  readonly plan: ProofPlan;
  readonly kept: OpenForm<CommissioningForm>;
  readonly form: CommissioningForm;
  readonly me: Me;
}

function Maker({ site, plan, kept, form, me }: MakerProps) {
  const { change, begun, clear } = kept;
  const proofs = useMemo(() => plannedProofs(plan), [plan]);
  const [told, setTold] = useState<Told>({ of: "", faults: [] });
  const { judgements, text, settled, draftText, faults, wrong } = useJudged({ site, plan, form, told });
  const issued = (): void => {
    void clear().then(() => {
      go(`/papers/${encodeURIComponent(site)}`);
    });
  };
  const fields = { form, change };
  return (
    <OpenFoldsShown value={useOpenFoldsByAddress("step")}>
      <FieldFaultsShown value={wrong}>
        <PaperMaker
          asked={begun && text !== null ? { kind: "commissioning-record", site, results: text } : null}
          formats={["pdf", "html"]}
          mayIssue={me.role !== "owner"}
          long
          settled={settled}
          refused={(found) => {
            setTold({ of: draftText, faults: found });
          }}
          done={issued}
        >
          <Keeping kept={kept} />
          <ResultsFile {...{ site, plan, begun }} text={draftText} {...fields} />
          <WhoFields {...fields} />
          <ConditionFields {...fields} />
          <InstrumentFields {...fields} />
          <Stop plan={plan} />
          <SheetFields site={site} {...fields} />
          {proofs.map((proof) => (
            <ProofFields key={`${proof.array} ${proof.path}`} {...{ proof, judgements }} {...fields} />
          ))}
          <SignatureFields {...fields} />
          {begun ? <WhatIsMissing faults={faults} nameOf={(at) => fieldName(at, form)} /> : null}
        </PaperMaker>
      </FieldFaultsShown>
    </OpenFoldsShown>
  );
}

/** The same reasons hold for every array and path, so they stand once, before the first step. */
function Stop({ plan }: { readonly plan: ProofPlan }) {
  return (
    <section className="flow">
      <h2 id={idOfField("results")} tabIndex={-1}>
        During every step: stop at once, stay clear and isolate when
      </h2>
      <ul>
        {plan.proofs[0]?.stopWhen.map(({ text }) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </section>
  );
}

function Keeping({ kept: { begun, saved, refused } }: Pick<MakerProps, "kept">) {
  if (refused !== null)
    return (
      <p role="alert" className="wrong">
        This browser could not keep the last change: {refused}. Save what is entered as a file.
      </p>
    );
  return (
    <p className="soft">
      {!begun
        ? "What you enter is kept in this browser until the record is issued: a reload or a closed tab loses nothing."
        : saved
          ? "Kept in this browser until the record is issued."
          : "Keeping it…"}
    </p>
  );
}
