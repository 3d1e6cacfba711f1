import { readdirSync, readFileSync } from "node:fs";
import { noticeFromSite, type Site, siteNotice, timeToNotice } from "@earthbell/engine";
import { readSite } from "@earthbell/model";
import { timed, type Timing } from "../finder/clock.ts";

const ON_DATE = "2026-11-25";

export interface DemoTime {
  readonly site: string;
  readonly paths: number;
  readonly people: number;
  /** A year of onsets, by each path and all together. */
  readonly year: Timing;
  /** The whole report: besides, what each cause costs and what each change gains. */
  readonly report: Timing;
}

function siteOf(file: string): Site {
  const read = readSite(readFileSync(`demo/sites/${file}`), file);
  if (!read.ok) throw new Error(`${file} does not read`);
  return read.record;
}

/** What a year of onsets and a whole report cost for each site of the demo. */
export async function demoTimes(): Promise<readonly DemoTime[]> {
  const times: DemoTime[] = [];
  for (const file of readdirSync("demo/sites")) {
    const site = siteOf(file);
    if (site.paths.length === 0) continue;
    const { model } = noticeFromSite(site, { paths: site.paths, onDate: ON_DATE });
    times.push({
      site: site.id,
      paths: site.paths.length,
      people: model.readers.length,
      year: await timed(15, () => timeToNotice(model)),
      report: await timed(5, () => siteNotice(site, { onDate: ON_DATE })),
    });
  }
  return times;
}
