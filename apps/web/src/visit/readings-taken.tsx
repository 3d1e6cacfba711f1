import { formatQuantity, type Reading } from "@earthbell/engine";
import type { KeptVisit } from "../keep/kept.ts";
import { dropReading, undo } from "./change-visit.ts";
import type { ChangeVisit } from "./use-visit.ts";

function value(reading: Reading): string {
  const digits = { significant: 5 } as const;
  if (reading.kind === "voltage") return formatQuantity(reading.value, "voltage", digits);
  if (reading.kind === "leakage") return formatQuantity(reading.value, "current", digits);
  return formatQuantity(reading.value, "resistance", digits);
}

const pole = (terminal: string): string => (terminal === "-" ? "−" : terminal);

function where(reading: Reading): string {
  const { on, segment, isolated, from, to } = reading;
  const part = segment === undefined ? on : `${on}, modules ${segment[0] + 1} to ${segment[1]}`;
  const off = isolated === undefined || isolated.length === 0 ? "" : ` without ${isolated.join(", ")}`;
  const across =
    reading.kind === "insulation" || reading.shunt === undefined
      ? ""
      : `, ${formatQuantity(reading.shunt, "resistance")}`;
  return `${part}${off}: ${pole(from)} to ${pole(to)}${across}`;
}

interface ReadingsTakenProps {
  readonly kept: KeptVisit;
  readonly change: ChangeVisit;
}

/** Every reading in the order taken, its number as in the drawing. */
export function ReadingsTaken({ kept, change }: ReadingsTakenProps) {
  const { readings } = kept.visit;
  const last = kept.before.at(-1);
  return (
    <section className="flow" aria-label="Readings">
      <h2>Readings</h2>
      {readings.length === 0 ? (
        <p className="soft">None yet. The first step above asks for them.</p>
      ) : (
        <Table {...{ readings, change }} />
      )}
      <p>
        <button
          type="button"
          className="undo"
          disabled={last === undefined}
          onClick={() => {
            change(undo);
          }}
        >
          Undo{last === undefined ? "" : ` ${last.what}`}
        </button>
      </p>
    </section>
  );
}

interface TableProps {
  readonly readings: readonly Reading[];
  readonly change: ChangeVisit;
}

function Table({ readings, change }: TableProps) {
  return (
    <div className="scroll" role="region" aria-label="Readings taken" tabIndex={0}>
      <table>
        <thead>
          <tr>
            <th scope="col" className="number">
              No.
            </th>
            <th scope="col">Between</th>
            <th scope="col" className="number">
              Shows
            </th>
            <td />
          </tr>
        </thead>
        <tbody>
          {readings.map((reading, index) => (
            <tr key={index}>
              <td className="number">{index + 1}</td>
              <td>{where(reading)}</td>
              <td className="number">{value(reading)}</td>
              <td>
                <button
                  type="button"
                  className="word small"
                  aria-label={`Take away reading ${index + 1}`}
                  onClick={() => {
                    change((now) => dropReading(now, index));
                  }}
                >
                  take away
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
