import { useCallback, useEffect, useState } from "react";
import { useAnswer } from "../engine/use-answer.ts";
import { InputFaults } from "../page/input-faults.tsx";
import { Page } from "../page/page.tsx";
import { saveFile } from "../page/save-file.ts";
import { useDeskRules } from "../rules/desk-rules.ts";
import { Full, Short } from "./answer.tsx";
import { type AdviceForm, adviceText, BLANK_FORM } from "./form.ts";
import { Questions } from "./questions.tsx";
import "./advise.css";

const KEPT_AS = "earthbell.advice";

/** What was typed survives a closed tab; a browser without storage begins blank. */
function keptForm(): AdviceForm {
  try {
    return { ...BLANK_FORM, ...(JSON.parse(localStorage.getItem(KEPT_AS) ?? "{}") as Partial<AdviceForm>) };
  } catch {
    return BLANK_FORM;
  }
}

function keep(form: AdviceForm): void {
  try {
    localStorage.setItem(KEPT_AS, JSON.stringify(form));
  } catch {
    // Shown all the same, only not kept.
  }
}

/** One page that answers while it is being filled in. */
export default function AdvisePage() {
  const [form, setForm] = useState<AdviceForm>(keptForm);
  const text = adviceText(form);
  const { value, failed, underWay } = useAnswer("advise", [text, useDeskRules()]);
  const advice = value?.ok === true ? value.advice : null;
  const set = useCallback((part: Partial<AdviceForm>): void => {
    setForm((last) => ({ ...last, ...part }));
  }, []);
  useEffect(() => {
    keep(form);
  }, [form]);
  const siteFile = value?.ok === true ? value.siteFile : null;
  return (
    <Page
      title="Advise"
      under="What alarm a site needs and which way of being told serves it. Answer what you know; the rest stays open."
    >
      <div className="advise">
        <form
          className="flow"
          onSubmit={(event) => {
            event.preventDefault();
          }}
        >
          <Questions form={form} set={set} next={advice?.next ?? null} />
        </form>
        <div className="short" aria-live="polite" aria-busy={underWay}>
          <h2>So far</h2>
          {failed === null ? null : <p className="wrong">{failed}</p>}
          {value?.ok === false ? <InputFaults file="An answer" faults={value.faults} /> : null}
          {advice === null ? null : <Short advice={advice} />}
        </div>
      </div>
      <section className="row controls">
        <button
          type="button"
          onClick={() => {
            saveFile("advice.yaml", text);
          }}
        >
          Save the answers
        </button>
        <button
          type="button"
          disabled={siteFile === null}
          onClick={() => {
            if (siteFile !== null) saveFile("site.yaml", siteFile);
          }}
        >
          Save the site with the best plan
        </button>
        <button
          type="button"
          onClick={() => {
            window.print();
          }}
        >
          Print
        </button>
        <button
          type="button"
          className="word"
          onClick={() => {
            setForm(BLANK_FORM);
          }}
        >
          Begin blank
        </button>
      </section>
      {advice === null ? null : <Full advice={advice} />}
    </Page>
  );
}
