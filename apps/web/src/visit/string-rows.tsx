import { Field } from "../page/field.tsx";

/** A string as it is typed. */
export interface StringRow {
  readonly id: string;
  readonly modules: string;
}

interface StringRowsProps {
  readonly rows: readonly StringRow[];
  readonly changed: (rows: readonly StringRow[]) => void;
}

/** The strings of a visit, one a line. */
export function StringRows({ rows, changed }: StringRowsProps) {
  const set = (index: number, part: Partial<StringRow>): void => {
    changed(rows.map((row, i) => (i === index ? { ...row, ...part } : row)));
  };
  const add = (): void => {
    changed([...rows, { id: `S${rows.length + 1}`, modules: rows.at(-1)?.modules ?? "" }]);
  };
  return (
    <fieldset className="flow">
      <legend>Strings</legend>
      {rows.map((row, index) => (
        <div className="row" key={index}>
          <Field
            words="Name"
            value={row.id}
            typed={(id) => {
              set(index, { id });
            }}
          />
          <Field
            words="Modules in series"
            kind="figures"
            value={row.modules}
            typed={(modules) => {
              set(index, { modules });
            }}
          />
          {rows.length > 1 ? (
            <button
              type="button"
              className="word"
              aria-label={`Take away string ${row.id}`}
              onClick={() => {
                changed(rows.filter((_, i) => i !== index));
              }}
            >
              take away
            </button>
          ) : null}
        </div>
      ))}
      <button type="button" onClick={add}>
        Another string
      </button>
    </fieldset>
  );
}
