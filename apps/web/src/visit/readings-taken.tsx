import { type ReadingEntry, standingReadings } from "@earthbell/model";
import type { KeptVisit } from "../keep/kept.ts";
import { dropReading, undo } from "./change-visit.ts";
import { readingPlace, readingValue } from "./reading-words.ts";
import type { ChangeVisit } from "./use-visit.ts";

interface ReadingsTakenProps {
  readonly kept: KeptVisit;
  readonly change: ChangeVisit;
}

/** Every reading in the order taken, its number as in the drawing. */
export function ReadingsTaken({ kept, change }: ReadingsTakenProps) {
  const readings = standingReadings(kept.entries);
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
            change((now) => undo(now, new Date().toISOString()));
          }}
        >
          Undo{last === undefined ? "" : ` ${last.what}`}
        </button>
      </p>
    </section>
  );
}

interface TableProps {
  readonly readings: readonly ReadingEntry[];
  readonly change: ChangeVisit;
}

function Table({ readings, change }: TableProps) {
  const people = new Set(readings.flatMap(({ by }) => (by === null ? [] : [by])));
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
          {readings.map(({ id, by, reading }, index) => (
            <tr key={id}>
              <td className="number">{index + 1}</td>
              <td>
                {readingPlace(reading)}
                {people.size > 1 && by !== null ? <span className="small soft"> by {by}</span> : null}
              </td>
              <td className="number">
                <span className="figure">{readingValue(reading)}</span>
              </td>
              <td>
                <button
                  type="button"
                  className="word small"
                  aria-label={`Take away reading ${index + 1}`}
                  onClick={() => {
                    change((now) => dropReading(now, index, new Date().toISOString()));
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
