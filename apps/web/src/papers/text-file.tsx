import { useId } from "react";

interface TextFileProps {
  readonly words: string;
  readonly hint: string;
  readonly accept?: string;
  readonly file: TextOfFile | null;
  readonly chosen: (file: TextOfFile | null) => void;
}

export interface TextOfFile {
  readonly name: string;
  readonly text: string;
}

const YAML = ".yaml,.yml,.json,text/plain,application/json";

/** A text file that goes into a paper; it can be taken out again. */
export function TextFile({ words, hint, accept = YAML, file, chosen }: TextFileProps) {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{words}</label>
      <input
        id={id}
        type="file"
        accept={accept}
        aria-describedby={`${id}-hint`}
        onChange={(event) => {
          const one = event.currentTarget.files?.[0];
          if (one !== undefined)
            void one.text().then((text) => {
              chosen({ name: one.name, text });
            });
          event.currentTarget.value = "";
        }}
      />
      <span id={`${id}-hint`} className="hint">
        {file === null ? hint : `${file.name} is taken.`}
      </span>
      {file === null ? null : (
        <button
          type="button"
          className="word"
          onClick={() => {
            chosen(null);
          }}
        >
          Take it out again
        </button>
      )}
    </div>
  );
}
