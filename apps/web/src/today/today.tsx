import { instantWords } from "../desk/instant.ts";
import { Link } from "../address/link.tsx";
import { PLACES } from "../address/places.ts";
import { useKept } from "../keep/use-desk.ts";
import { Page } from "../page/page.tsx";

/** The first page: what is under way on this device, then what can be done here. */
export default function Today() {
  const visits = useKept((desk) => desk.visits.all(), "today");
  const open = (visits ?? [])
    .filter(({ practice }) => practice === null)
    .toSorted((a, b) => b.changed.localeCompare(a.changed))
    .slice(0, 5);
  return (
    <Page title="What is under way">
      {visits !== undefined && open.length === 0 ? (
        <p>
          No visit is open on this device. <Link to="/visits">Begin one or open the example</Link>.
        </p>
      ) : (
        <ul className="plain index">
          {open.map(({ id, title, changed, visit }) => (
            <li key={id} className="noted">
              <p>
                <Link to={`/visits/${id}`}>{title}</Link>
              </p>
              <p className="note">
                {visit.readings.length} readings, {instantWords(Date.parse(changed))}
              </p>
            </li>
          ))}
        </ul>
      )}
      <section className="flow">
        <h2>Places</h2>
        <dl className="flow">
          {PLACES.map(({ path, name, does }) => (
            <div key={path}>
              <dt>
                <Link to={path}>{name}</Link>
              </dt>
              <dd className="soft">{does}</dd>
            </div>
          ))}
        </dl>
      </section>
      <section>
        <p>
          This work can kill. It belongs to people licensed for it; the local code, the standard and the
          maker’s instructions come before anything written here.
        </p>
      </section>
    </Page>
  );
}
