export { shownBy } from "./beacons.ts";
export { createWatch } from "./create-watch.ts";
export type * from "./watch.ts";
