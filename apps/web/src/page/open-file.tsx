import { useId, useState } from "react";

interface OpenFileProps {
  /** What kind of file, in words: "a site file". */
  readonly what: string;
  readonly opened: (text: string, file: string) => void;
}

const KINDS = ".yaml,.yml,.json,text/plain,application/json";

/** A file by choosing, by dropping it here, or by pasting its text. It stays on this device. */
export function OpenFile({ what, opened }: OpenFileProps) {
  const id = useId();
  const [over, setOver] = useState(false);
  const take = (file: File | undefined): void => {
    if (file !== undefined)
      void file.text().then((text) => {
        opened(text, file.name);
      });
  };
  return (
    <div
      className={over ? "drop flow over" : "drop flow"}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => {
        setOver(false);
      }}
      onDrop={(event) => {
        event.preventDefault();
        setOver(false);
        take(event.dataTransfer.files[0]);
      }}
    >
      <label className="field" htmlFor={id}>
        <span>Open {what}</span>
        <span className="hint">or drop it on this field</span>
      </label>
      <input
        id={id}
        type="file"
        accept={KINDS}
        onChange={(event) => {
          take(event.currentTarget.files?.[0]);
          event.currentTarget.value = "";
        }}
      />
      <Paste {...{ what, opened }} />
    </div>
  );
}

function Paste({ what, opened }: OpenFileProps) {
  const [pasted, setPasted] = useState("");
  return (
    <details>
      <summary>Paste its text instead</summary>
      <label className="field">
        <span>Text of {what}</span>
        <textarea
          rows={8}
          spellCheck={false}
          value={pasted}
          onChange={(event) => {
            setPasted(event.currentTarget.value);
          }}
        />
      </label>
      <p>
        <button
          type="button"
          disabled={pasted.trim() === ""}
          onClick={() => {
            opened(pasted, "pasted text");
          }}
        >
          Read the pasted text
        </button>
      </p>
    </details>
  );
}
