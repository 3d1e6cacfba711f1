export type * from "./faults/input-fault.ts";
export { explainFault, FAULT_CATALOGUE, type FaultCode, type FaultPage } from "./faults/catalogue.ts";
export { DEFAULT_MAX_BYTES, type ReadOptions } from "./door/open-document.ts";
export { readSite } from "./site/read-site.ts";
export { SITE_FORMAT } from "./site/site-file.ts";
export { formatHours, parseHours, type HoursResult } from "./site/hours.ts";
export { readVisit } from "./visit/read-visit.ts";
export { VISIT_FORMAT } from "./visit/visit-file.ts";
