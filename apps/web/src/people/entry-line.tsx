import { Link } from "../address/link.tsx";
import type { Entry } from "./told-records.ts";
import { habitsWords } from "./told-words.ts";

/** A person at one site: the paths, who else is told by them, and what the site file says of hours and absences. */
export function EntryLine({ entry }: { readonly entry: Entry }) {
  const { site, siteName, person, role, paths, away, until, zone } = entry;
  return (
    <li className="noted">
      <p>
        <Link to={`/register/${encodeURIComponent(site)}`}>{siteName ?? site}</Link>{" "}
        <span className="soft">
          as {person}
          {role === null || role === person ? "" : `, ${role}`}
        </span>
        {paths.length === 0 ? (
          <>
            <br />
            On no message path: never told.
          </>
        ) : null}
        {paths.map(({ path, afterMin, others }) => (
          <span key={path}>
            <br />
            {path}: {afterMin === null ? "told at once" : `told after ${afterMin} min without an answer`}
            {others.length === 0 ? ", and nobody else is" : `, with ${others.join(", ")}`}
          </span>
        ))}
      </p>
      <p className="note">
        {habitsWords({ ...entry, sites: 1 })} ({zone})
        {away.length === 0 ? "" : `; away ${away.map(({ from, to }) => `${from} to ${to}`).join(", ")}`}
        {until === null ? "" : `; until ${until}`}
      </p>
    </li>
  );
}
