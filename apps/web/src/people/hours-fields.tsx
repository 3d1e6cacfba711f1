import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import { DAYS, type HoursKind, type HoursRow, OFFICE_HOURS } from "./hours-rows.ts";

export interface HoursForm {
  /** "stays": they differ between sites, and none of them is touched. */
  readonly kind: HoursKind | "stays";
  readonly rows: readonly HoursRow[];
}

interface HoursFieldsProps {
  readonly form: HoursForm;
  readonly differ: boolean;
  readonly set: (form: HoursForm) => void;
}

const KINDS: readonly (readonly [HoursForm["kind"], string])[] = [
  ["some", "at these hours"],
  ["always", "at any hour"],
  ["never", "never"],
  ["unknown", "not known"],
];
const DAY_CHOICES = DAYS.map((day) => [day, day] as const);

/** When a person reads messages: hours of the week, a line each. */
export function HoursFields({ form: { kind, rows }, differ, set }: HoursFieldsProps) {
  const change = (at: number, part: Partial<HoursRow>): void => {
    set({ kind, rows: rows.map((row, i) => (i === at ? { ...row, ...part } : row)) });
  };
  return (
    <fieldset className="flow">
      <legend>Reads messages</legend>
      <div className="narrow">
        <Choice
          words="When"
          value={kind}
          choices={differ ? [["stays", "as it is at each site"], ...KINDS] : KINDS}
          chosen={(chosen) => {
            set({ kind: chosen as HoursForm["kind"], rows: rows.length === 0 ? [OFFICE_HOURS] : rows });
          }}
        />
      </div>
      {kind === "some"
        ? rows.map((row, at) => (
            // Lines have no name of their own; they are added and taken away at their place.
            <div key={at} className="hours-row" role="group" aria-label={`Hours ${at + 1}`}>
              <Choice
                words="From"
                value={row.from}
                choices={DAY_CHOICES}
                chosen={(from) => {
                  change(at, { from });
                }}
              />
              <Choice
                words="To"
                value={row.to}
                choices={DAY_CHOICES}
                chosen={(to) => {
                  change(at, { to });
                }}
              />
              <Field
                words="Begins"
                value={row.begins}
                typed={(begins) => {
                  change(at, { begins });
                }}
              />
              <Field
                words="Ends"
                value={row.ends}
                typed={(ends) => {
                  change(at, { ends });
                }}
              />
              {rows.length === 1 ? null : (
                <button
                  type="button"
                  className="word"
                  onClick={() => {
                    set({ kind, rows: rows.filter((_, i) => i !== at) });
                  }}
                >
                  Take away<span className="unseen"> hours {at + 1}</span>
                </button>
              )}
            </div>
          ))
        : null}
      {kind === "some" ? (
        <p>
          <button
            type="button"
            className="word"
            onClick={() => {
              set({ kind, rows: [...rows, rows.at(-1) ?? OFFICE_HOURS] });
            }}
          >
            More hours
          </button>
        </p>
      ) : null}
    </fieldset>
  );
}
