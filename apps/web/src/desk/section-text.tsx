import { useState } from "react";
import { Field } from "../page/field.tsx";
import { FaultText } from "./fault-text.tsx";
import { keepSecret } from "./keep-secret.ts";
import { LongText } from "./long-text.tsx";
import { useStep } from "./use-step.ts";

const SECRETS: Readonly<Record<string, "webhook" | "sms" | "broker">> = {
  webhook: "webhook",
  sms: "sms",
  brokers: "broker",
};

interface SectionTextProps {
  readonly section: string;
  readonly value: unknown;
  readonly busy: boolean;
  readonly put: (wanted: () => Promise<object>) => void;
}

/** A section as text, in the words of the file; its secrets are put in beside it and named there. */
export function SectionText({ section, value, busy, put }: SectionTextProps) {
  const [text, setText] = useState(value === undefined ? "" : linesOf(value));
  const secret = SECRETS[section];
  return (
    <div className="flow">
      <form
        className="flow"
        onSubmit={(event) => {
          event.preventDefault();
          put(() => Promise.resolve(text.trim() === "" ? {} : { text }));
        }}
      >
        <LongText
          words="As it stands in the file; blank takes the section out"
          value={text}
          typed={setText}
        />
        <button type="submit" disabled={busy}>
          Save this section
        </button>
      </form>
      {secret === undefined ? null : <PutSecret of={secret} />}
    </div>
  );
}

/** One entry or field a line, each in a form that YAML reads. */
function linesOf(value: unknown): string {
  if (Array.isArray(value)) return value.map((one) => `- ${JSON.stringify(one)}`).join("\n");
  return Object.entries(value as object)
    .map(([name, one]) => `${name}: ${JSON.stringify(one)}`)
    .join("\n");
}

function PutSecret({ of }: { readonly of: "webhook" | "sms" | "broker" }) {
  const [secret, setSecret] = useState("");
  const [file, setFile] = useState<string | null>(null);
  const { busy, fault, take } = useStep();
  return (
    <form
      className="flow narrow"
      onSubmit={(event) => {
        event.preventDefault();
        take(async () => {
          const kept = await keepSecret(of, secret);
          setFile(kept.file);
          setSecret("");
          return "The secret is kept.";
        });
      }}
    >
      <Field
        words="A secret to be named above"
        hint="kept by the desk alone, never shown again"
        value={secret}
        typed={setSecret}
        kind="secret"
      />
      <button type="submit" disabled={busy || secret === ""}>
        Put the secret in
      </button>
      <FaultText fault={fault} />
      {file === null ? null : (
        <p>
          Write where the secret belongs: <span className="figure">{`{file: ${file}}`}</span>
        </p>
      )}
    </form>
  );
}
