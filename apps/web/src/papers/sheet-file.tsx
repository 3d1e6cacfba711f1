import { ask } from "../engine/ask.ts";
import { FormFile } from "./form-file.tsx";
import { type ChangeSheet, formOfSheet, type SheetForm } from "./setting-sheet-form.ts";

interface SheetFileProps {
  readonly form: SheetForm;
  readonly begun: boolean;
  readonly change: ChangeSheet;
  readonly text: string;
  /** The id of the sheet stays, whatever the file says. */
  readonly fixed: boolean;
}

/** A sheet goes out of the form and into it as a file. */
export function SheetFile({ form, begun, change, text, fixed }: SheetFileProps) {
  return (
    <FormFile
      {...{ form, begun, text }}
      saves="the sheet"
      opens="a setting sheet"
      name={`setting-sheet-${form.id === "" ? "new" : form.id}.yaml`}
      read={async (loaded, file) => {
        const read = await ask("readSheet", loaded, file);
        if (!read.ok) return read;
        return {
          ok: true,
          form: formOfSheet(read.record, null),
          words: `The sheet of ${file} is in the form.`,
        };
      }}
      put={(by) => {
        change(({ id, from }) => ({ ...by, from, ...(fixed ? { id } : {}) }));
      }}
    />
  );
}
