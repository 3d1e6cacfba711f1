import { hoursWords, type SiteNotice } from "@earthbell/engine";
import { useEffect, useState } from "react";
import { ask } from "../engine/ask.ts";
import { MOST_DAYS, rowsOfNotice } from "./notice-rows.ts";
import type { PlannedSite } from "./told-records.ts";

interface Noticed {
  readonly before: SiteNotice;
  readonly after: SiteNotice;
}

/** The time to notice of a site by a text of its file; null where it cannot be read. */
async function noticeBy(text: string, site: string, onDate: string): Promise<SiteNotice | null> {
  const read = await ask("readSite", text, `${site}.yaml`);
  return read.ok && read.record.paths.length > 0 ? await ask("notice", read.record, onDate) : null;
}

interface NoticeChangeProps {
  readonly sites: readonly PlannedSite[];
  /** Today, YYYY-MM-DD. */
  readonly onDate: string;
}

/** What a change does to the time until somebody knows, at the first few sites: worked out here, by this device. */
export function NoticeChange({ sites, onDate }: NoticeChangeProps) {
  const few = sites.filter(({ texts }) => texts !== null);
  if (few.length === 0) return null;
  return (
    <section className="flow">
      <h3>Until somebody knows</h3>
      <p className="soft">
        By the site files, for faults that begin on any day of the year from {onDate} on, so that an absence
        counts for as long as it lasts. What is broken or silent just now is not in it.
        {few.length < sites.length ? ` Worked out for the first ${few.length} of ${sites.length} sites.` : ""}
      </p>
      {few.map((site) => (
        <SiteChange key={site.site} site={site} onDate={onDate} />
      ))}
    </section>
  );
}

function SiteChange({
  site: { site, texts },
  onDate,
}: {
  readonly site: PlannedSite;
  readonly onDate: string;
}) {
  const [noticed, setNoticed] = useState<Noticed | "none" | null>(null);
  useEffect(() => {
    let gone = false;
    const work = async (): Promise<void> => {
      const before = await noticeBy(texts?.before ?? "", site, onDate);
      const after = gone ? null : await noticeBy(texts?.after ?? "", site, onDate);
      if (!gone) setNoticed(before === null || after === null ? "none" : { before, after });
    };
    work().catch(() => {
      if (!gone) setNoticed("none");
    });
    return () => {
      gone = true;
    };
  }, [texts?.before, texts?.after, site, onDate]);
  if (noticed === null) return <p className="soft">Working it out for {site}…</p>;
  if (noticed === "none") return <p>{site}: the time to notice cannot be worked out from its file.</p>;
  return <NoticeTable site={site} noticed={noticed} />;
}

function NoticeTable({
  site,
  noticed: { before, after },
}: {
  readonly site: string;
  readonly noticed: Noticed;
}) {
  const words = (hours: number | null): string =>
    hours === null ? `over ${MOST_DAYS} d, if ever` : hoursWords(hours);
  const change = (was: string, is: string): string => (was === is ? `${is}, as before` : `${was} → ${is}`);
  return (
    <div className="scroll" role="region" aria-label={`Until somebody knows at ${site}`} tabIndex={0}>
      <table className="changes">
        <caption>{site}</caption>
        <thead>
          <tr>
            <th scope="col">Paths</th>
            <th scope="col">Half known within</th>
            <th scope="col">95 % known within</th>
            <th scope="col">Unknown after 24 h</th>
          </tr>
        </thead>
        <tbody>
          {rowsOfNotice(before.answers, after.answers).map(({ paths, was, is }) => (
            <tr key={paths}>
              <th scope="row">{paths}</th>
              <td>{change(words(was.medianHours), words(is.medianHours))}</td>
              <td>{change(words(was.p95Hours), words(is.p95Hours))}</td>
              <td>{change(share(was.unnoticedAfter24h), share(is.unnoticedAfter24h))}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function share(part: number): string {
  const percent = part * 100;
  return `${percent > 0 && percent < 10 ? percent.toFixed(1) : percent.toFixed(0)} %`;
}
