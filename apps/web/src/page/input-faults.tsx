/** One thing wrong with a file, as the reader of files tells it. */
interface Fault {
  readonly code: string;
  readonly line: number | null;
  readonly field: string;
  readonly value: string | null;
  readonly allowed: string;
  readonly message: string;
}

interface InputFaultsProps {
  readonly file: string;
  readonly faults: readonly Fault[];
}

/** Every fault of a file at once, each with its line, what was found and what is allowed. */
export function InputFaults({ file, faults }: InputFaultsProps) {
  return (
    <div role="alert" className="flow">
      <h3>
        {file} was not taken: {faults.length === 1 ? "one fault" : `${faults.length} faults`}
      </h3>
      <ol className="plain index">
        {faults.map(({ code, line, field, value, allowed, message }) => (
          <li key={`${code} ${line ?? ""} ${field}`}>
            <p>
              {line === null ? null : <span className="figure">Line {line}. </span>}
              {message}
            </p>
            <p className="small soft">
              {field === "" ? null : <>At {field}. </>}
              {value === null ? null : <>Found {value}. </>}
              Allowed: {allowed}. <span className="figure">{code}</span>
            </p>
          </li>
        ))}
      </ol>
    </div>
  );
}
