import { Link } from "../address/link.tsx";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import { useAnswer } from "./use-answer.ts";

interface VisitLine {
  readonly id: string;
  readonly title: string;
  readonly begunAt: number;
  readonly by: string;
  readonly entries: number;
}

/** Visits made for a case, as far as they were handed over; each opens with everybody's readings. */
export function CaseVisits({ of }: { readonly of: string }) {
  const { value, fault } = useAnswer<readonly VisitLine[]>(`/api/visits?case=${encodeURIComponent(of)}`, [
    "visit",
  ]);
  return (
    <>
      <FaultText fault={fault} />
      <ul className="plain index">
        {value?.map(({ id, title, begunAt, by, entries }) => (
          <li key={id} className="noted">
            <p>
              <Link to={`/visits/${encodeURIComponent(id)}`}>{title}</Link>
            </p>
            <p className="note">
              begun by {by}, {instantWords(begunAt)}; {entries === 1 ? "one entry" : `${entries} entries`}
            </p>
          </li>
        ))}
      </ul>
    </>
  );
}
