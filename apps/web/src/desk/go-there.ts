import { go } from "../address/address.ts";
import { readAtCase } from "../visit/read-at-case.ts";
import { sharedDesk } from "./shared-desk.ts";
import { takeSite } from "./site-file.ts";

/** Where somebody goes to measure. */
export interface GoingThere {
  readonly site: string;
  readonly array?: string;
  /** The case for which somebody goes there. */
  readonly of?: string;
}

/**
 * Takes the file of a site onto this device, since there may be no signal there, and opens the form of a visit to it.
 * `now`: instant at which the cautions of the case were said to be read, ISO 8601 in UTC. @throws DeskFault
 */
export async function goThere({ site, array, of }: GoingThere, now: string): Promise<void> {
  await takeSite(sharedDesk, site);
  const about = {
    site,
    ...(array === undefined ? {} : { array }),
    ...(of === undefined ? {} : { case: of }),
  };
  if (of !== undefined) readAtCase(of, now);
  go(`/visits/new?${new URLSearchParams(about).toString()}`);
}
