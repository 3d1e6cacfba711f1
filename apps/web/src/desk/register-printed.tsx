import { counted } from "../page/counted.ts";
import type { SiteLine } from "./records.ts";
import { HEADS, Insulation, judged, nameOf, Standing } from "./register-row.tsx";

/** Some eighty pages: more is better read as a file, or as the paper that is made for it. */
const MOST = 2000;

/** Every site that was asked for, as a table whose heads stand on each page. */
export function PrintedRows({ sites }: { readonly sites: readonly SiteLine[] }) {
  const rest = sites.length - MOST;
  return (
    <>
      {rest <= 0 ? null : (
        <p>
          These are the first {MOST} of {counted(sites.length, "site")}; {rest} are left out here. The whole
          is the register of the fleet, among the papers, or the table that the register saves.
        </p>
      )}
      <table className="printed-rows">
        <thead>
          <tr>
            {HEADS.map((words) => (
              <th key={words} scope="col">
                {words}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {sites.slice(0, MOST).map((site) => (
            <PrintedRow key={site.id} site={site} />
          ))}
        </tbody>
      </table>
    </>
  );
}

function PrintedRow({ site }: { readonly site: SiteLine }) {
  return (
    <tr>
      <th scope="row">{nameOf(site)}</th>
      <td>
        <Standing site={site} />
      </td>
      {site.standing === null ? (
        <td colSpan={3}>being judged</td>
      ) : (
        judged(site, site.standing).map(([name, shown]) => <td key={name}>{shown}</td>)
      )}
      <td>
        <Insulation site={site} />
      </td>
    </tr>
  );
}
