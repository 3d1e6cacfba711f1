import type { Site } from "@earthbell/engine";
import type * as z from "zod";
import type { ReadOptions } from "../door/open-document.ts";
import { readRecord, type Format } from "../door/read-record.ts";
import type { ReadResult } from "../faults/input-fault.ts";
import { siteConsistency } from "./site-consistency.ts";
import { SITE_FORMAT, siteFile } from "./site-file.ts";

type SiteFile = z.output<typeof siteFile>;

const siteFormat: Format<SiteFile, Site> = {
  name: SITE_FORMAT,
  fields: siteFile,
  consistency: siteConsistency,
  record: ({ site, people = [], paths = [], proofs = [], ownerInformed, assumptions, ...file }) => ({
    ...site,
    modules: file.modules,
    inverters: file.inverters,
    arrays: file.arrays,
    people,
    paths,
    proofs,
    ...(ownerInformed === undefined ? {} : { ownerInformed }),
    ...(assumptions === undefined ? {} : { assumptions }),
  }),
};

/**
 * Reads one site file (`earthbell.site/1`, YAML or JSON), its quantities in base units.
 *
 * @returns the site, or every fault of the file at once in order of line. Never throws.
 */
export function readSite(
  source: string | Uint8Array,
  file: string,
  options: ReadOptions = {},
): ReadResult<Site> {
  return readRecord(siteFormat, source, file, options);
}
