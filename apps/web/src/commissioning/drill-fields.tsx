import { useContext } from "react";
import {
  blankDrill,
  type ChangeForm,
  type CommissioningForm,
  type DrillEntry,
  SIGNERS,
} from "./commissioning-form.ts";
import { FieldFaultsShown } from "./field-faults.ts";
import { FormField, YesNo } from "./form-field.tsx";
import { StepFold, type StepName } from "./step-fold.tsx";
import { standingOfDrill } from "./step-standing.ts";

interface DrillProps {
  readonly path: string;
  readonly step: StepName;
  readonly form: CommissioningForm;
  readonly change: ChangeForm;
}

/** When the alarm was raised, who acknowledged it when, and whether the path is proved by it. */
export function DrillFields({ path, step, form, change }: DrillProps) {
  const entry = form.drills.find((one) => one.path === path) ?? blankDrill(path);
  const at = `drill:${path}`;
  const wrong = useContext(FieldFaultsShown);
  const set = (fields: Partial<DrillEntry>): void => {
    change((now) => {
      const others = now.drills.filter((one) => one.path !== path);
      return { ...now, drills: [...others, { ...entry, ...fields }] };
    });
  };
  const field = (name: "raised" | "acknowledgedBy" | "acknowledged", words: string) => (
    <FormField
      at={`${at}.${name}`}
      words={words}
      kind={name === "acknowledgedBy" ? "text" : "time"}
      value={entry[name]}
      typed={(value) => {
        set({ [name]: value });
      }}
    />
  );
  return (
    <StepFold step={step} standing={standingOfDrill(entry, wrong)} next={null}>
      <div className="fields">
        {field("raised", "Alarm raised at")}
        {field("acknowledgedBy", "Acknowledged by")}
        {field("acknowledged", "Acknowledged at")}
      </div>
      <YesNo
        at={`${at}.proved`}
        words="Is the path proved?"
        yes="Yes, it is proved"
        no="No, it is not proved"
        value={entry.proved}
        answered={(proved) => {
          set({ proved });
        }}
      />
      <FormField
        at={`${at}.note`}
        words="Remark, or what has to be mended"
        long
        value={entry.note}
        typed={(note) => {
          set({ note });
        }}
      />
    </StepFold>
  );
}

/** Who answers for it by name; they sign the paper by hand. */
export function SignatureFields({ form, change }: Omit<DrillProps, "path" | "step">) {
  return (
    <section className="flow">
      <h2>Names for the sign-off</h2>
      <p className="soft">Those who are named here sign the paper by hand.</p>
      {SIGNERS.map(([as, words]) => {
        const entry = form.signatures.find((one) => one.as === as) ?? { as, name: "", on: "" };
        const set = (fields: Partial<typeof entry>): void => {
          change((now) => {
            const others = now.signatures.filter((one) => one.as !== as);
            return { ...now, signatures: [...others, { ...entry, ...fields }] };
          });
        };
        return (
          <div key={as} className="fields">
            <FormField
              at={`signature:${as}.name`}
              words={words}
              value={entry.name}
              typed={(name) => {
                set({ name });
              }}
            />
            <FormField
              at={`signature:${as}.on`}
              words={`${words}, on`}
              kind="date"
              value={entry.on}
              typed={(on) => {
                set({ on });
              }}
            />
          </div>
        );
      })}
    </section>
  );
}
