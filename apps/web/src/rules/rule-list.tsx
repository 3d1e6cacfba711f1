import { BUILT_IN_PACKS, type RulePack } from "@earthbell/engine";
import { Link } from "../address/link.tsx";
import { Page } from "../page/page.tsx";

export function placesOf({ jurisdictions, selectedBy }: RulePack): string {
  const places = jurisdictions.map(({ country, regions }) =>
    regions === undefined ? country : regions.map((region) => `${country}-${region}`).join(", "),
  );
  if (places.length === 0) return "binds only where a site file names it";
  return `${places.join(", ")}; ${selectedBy === "date" ? "chosen by the day of the work" : "chosen by the authority’s adoption"}`;
}

/** Every rule pack that is kept here. */
export default function RuleList() {
  return (
    <Page
      title="Rules"
      under="One pack is one edition of one rule set as data. Each value says where it comes from; check those tagged memory or secondary against your own copy."
    >
      <ul className="plain index">
        {BUILT_IN_PACKS.map((pack) => (
          <li key={pack.id} className="noted">
            <p>
              <Link to={`/rules/${pack.id}`}>{pack.title}</Link>
              <br />
              <span className="soft">{pack.edition}</span>
            </p>
            <p className="note">{placesOf(pack)}</p>
          </li>
        ))}
      </ul>
    </Page>
  );
}
