/**
 * Where the desk answers what the pages about one site or one case ask. Written once: what is asked ahead of a page has to be
 * what the page then reads.
 */
const of = (id: string): string => encodeURIComponent(id);

/** Drills of a path that a page shows at the most. */
export const MOST_DRILLS_SHOWN = 100;

export const casePath = (id: string): string => `/api/cases/${of(id)}`;
export const siteLinePath = (id: string): string => `/api/sites?id=${of(id)}`;
export const siteRecordPath = (id: string): string => `/api/sites/${of(id)}/record`;
export const casesOfSitePath = (id: string): string => `/api/cases?state=all&site=${of(id)}`;
/** One more of each path than is shown tells whether there are older ones. */
export const drillsOfSitePath = (id: string): string =>
  `/api/drills?limit=5000&ofEachPath=${MOST_DRILLS_SHOWN + 1}&site=${of(id)}`;
