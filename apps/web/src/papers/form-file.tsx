import type { InputFault } from "@earthbell/model";
import { type ReactNode, useState } from "react";
import { announce } from "../page/announce.tsx";
import { InputFaults } from "../page/input-faults.tsx";
import { OpenFile } from "../page/open-file.tsx";
import { saveFile } from "../page/save-file.ts";

/** A form as a file reads it, or what is wrong with the file. */
export type ReadForm<Form> =
  | { readonly ok: true; readonly form: Form; readonly words: string }
  | { readonly ok: false; readonly faults: readonly InputFault[] };

interface FormFileProps<Form> {
  readonly form: Form;
  /** Something was entered already, which another file would replace. */
  readonly begun: boolean;
  /** What the file holds, for the button that saves it and the one that opens it. */
  readonly saves: string;
  readonly opens: string;
  readonly name: string;
  /** What is entered, as a file. */
  readonly text: string;
  readonly read: (text: string, file: string) => Promise<ReadForm<Form>>;
  readonly put: (form: Form) => void;
  /** Other ways to begin; each replaces what stands in the form and says so. */
  readonly others?: (replace: (by: Form, words: string) => void) => ReactNode;
}

/** A form goes out as a file and in from one; what stood there before can be put back. */
export function FormFile<Form>(props: FormFileProps<Form>) {
  const { form, begun, saves, opens, name, text, read, put, others } = props;
  const [before, setBefore] = useState<{ readonly form: Form } | null>(null);
  const [refused, setRefused] = useState<readonly InputFault[]>([]);
  const [said, setSaid] = useState<string | null>(null);
  const replace = (by: Form, words: string): void => {
    setBefore(begun ? { form } : null);
    put(by);
    setSaid(words);
    announce(words);
  };
  const load = async (loaded: string, file: string): Promise<void> => {
    const answer = await read(loaded, file);
    setRefused(answer.ok ? [] : answer.faults);
    setSaid(null);
    if (answer.ok) replace(answer.form, answer.words);
  };
  return (
    <section className="flow">
      <h2>As a file</h2>
      <p>
        <button
          type="button"
          disabled={!begun}
          onClick={() => {
            saveFile(name, text);
          }}
        >
          Save {saves} as a file
        </button>
      </p>
      {others?.(replace)}
      <details>
        <summary>Fill the form in from a file</summary>
        <OpenFile
          what={opens}
          opened={(loaded, file) => {
            void load(loaded, file);
          }}
        />
      </details>
      {refused.length === 0 ? null : <InputFaults file={refused[0]!.file} faults={refused} />}
      {said === null ? null : (
        <p>
          {said}{" "}
          {before === null ? null : (
            <button
              type="button"
              className="word"
              onClick={() => {
                replace(before.form, "What stood there before is back in the form.");
              }}
            >
              Put back what stood there before
            </button>
          )}
        </p>
      )}
    </section>
  );
}
