import type { Site } from "@earthbell/engine";
import { readSite, type ReadResult } from "@earthbell/model";

/** One array or path of a site that the command line names. */
export interface PartAsked {
  readonly kind: "array" | "path";
  /** undefined: all of them. */
  readonly id: string | undefined;
}

/** Reads a site file and refuses it where it has no array or path of the name asked for. */
export function readSiteWith(source: Uint8Array, file: string, { kind, id }: PartAsked): ReadResult<Site> {
  const read = readSite(source, file, {});
  if (!read.ok || id === undefined) return read;
  const known = (kind === "array" ? read.record.arrays : read.record.paths).map((part) => part.id);
  if (known.includes(id)) return read;
  const allowed = known.length === 0 ? `the site has no ${kind}s` : known.join(", ");
  const fault = {
    code: "COMMAND_PART_UNKNOWN",
    file,
    line: null,
    column: null,
    field: `--${kind}`,
    value: id.slice(0, 60),
    allowed,
    message: `The site has no ${kind} ${JSON.stringify(id)}.`,
  };
  return { ok: false, faults: [fault] };
}
