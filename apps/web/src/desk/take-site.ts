import type { Site } from "@earthbell/engine";
import { go } from "../address/address.ts";
import { ask } from "../engine/ask.ts";
import { readAtCase } from "../visit/read-at-case.ts";
import { DeskFault, readDeskText } from "./ask-desk.ts";
import { sharedDesk } from "./shared-desk.ts";

/** Where somebody goes to measure. */
export interface GoingThere {
  readonly site: string;
  readonly array?: string;
  /** The case for which somebody goes there. */
  readonly of?: string;
}

/**
 * Takes the file of a site onto this device, since there may be no signal there, and opens the form of a visit to it.
 * `now`: instant, ISO 8601 in UTC; the cautions of the case count as read at it. @throws DeskFault
 */
export async function goThere({ site, array, of }: GoingThere, now: string): Promise<void> {
  await takeSite(site, now);
  const about = {
    site,
    ...(array === undefined ? {} : { array }),
    ...(of === undefined ? {} : { case: of }),
  };
  if (of !== undefined) readAtCase(of, now);
  go(`/visits/new?${new URLSearchParams(about).toString()}`);
}

/** Takes the file of a site onto this device and opens its pages, which then work without signal. @throws DeskFault */
export async function openFileHere(id: string, now: string): Promise<void> {
  await takeSite(id, now);
  go(`/sites/${encodeURIComponent(id)}`);
}

async function takeSite(id: string, now: string): Promise<void> {
  const { text, site } = await siteFile(id);
  const file = `${id}.yaml, from the desk`;
  await sharedDesk.sites.keep({ id, name: site.name ?? id, file, text, site, opened: now });
}

/** The file of a site as the desk has it, read by this app's own reader. */
async function siteFile(id: string): Promise<{ readonly text: string; readonly site: Site }> {
  const text = await readDeskText(`/api/sites/${encodeURIComponent(id)}`);
  const read = await ask("readSite", text, `${id}.yaml`);
  if (!read.ok) {
    const words = read.faults.map(({ message }) => message).join(" ");
    throw new DeskFault(read.faults[0]?.code ?? "PAGE_FAULT", words);
  }
  return { text, site: read.record };
}
