/** The desk: a service that listens to arrays, raises cases, tells people, and knows when it has gone deaf. */
export { machineClock } from "./clock.ts";
export { inventedSites, startFleet } from "./fleet/index.ts";
export { deskFolder, readSettings } from "./folder/desk-folder.ts";
export { FolderFault } from "./folder/folder-fault.ts";
export { secretsOf } from "./folder/secrets.ts";
export { copyOut, takeBack } from "./folder/folder-copy.ts";
export { makePersonToken, makeSiteToken } from "./http/make-token.ts";
export type { Log } from "./log.ts";
export { serveDemo } from "./start/serve-demo.ts";
export { serveFolder } from "./start/serve-folder.ts";
export { storeFileIn, storePlaceOf } from "./start/store-place-of.ts";
export { openStore, StoreError } from "./store/index.ts";
