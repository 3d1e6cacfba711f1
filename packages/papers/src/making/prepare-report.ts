import { locate } from "@earthbell/engine";
import { type ReadResult, readVisit, type VisitOnFile } from "@earthbell/model";
import { jsonOf } from "../identity/canonical.ts";
import { deskReport } from "../kinds/fault-report/desk-report.ts";
import { faultReport, type VisitFound } from "../kinds/fault-report/fault-report.ts";
import { reportedPhotos } from "../kinds/fault-report/photo-section.ts";
import type { Extra, PhotoFile, Prepared, Source } from "./recipe.ts";

/** The report of a fault from what a desk has on record, or from the file of a visit and of one after the repair. */
export function prepareReport(
  source: Source | undefined,
  { after: later, records, photoFiles = [] }: Extra,
): ReadResult<Prepared> {
  if (records !== undefined) {
    const paper: Prepared["paper"] = (issue, photos) => deskReport(records, issue, photos);
    const photos = reportedPhotos(records).map(({ photo }) => photo.digest);
    return { ok: true, warnings: [], record: { of: records.name, input: jsonOf(records), photos, paper } };
  }
  if (source === undefined) throw new Error("a report is made from a visit file or from records");
  const read = visitOf(source, photoFiles);
  const second = later === undefined ? null : visitOf(later, photoFiles);
  if (!read.ok) return read;
  if (second !== null && !second.ok) return second;
  const before = found(read.record);
  const after = second === null ? null : found(second.record);
  const photos = [before, ...(after === null ? [] : [after])]
    .flatMap(({ visit }) => visit.photos ?? [])
    .flatMap(({ sha256 }) => (sha256 === undefined ? [] : [sha256]));
  return {
    ...read,
    record: {
      of: source.stem,
      input: jsonOf({ before: before.visit, after: after?.visit }),
      photos,
      paper: (issue, shown) => faultReport({ name: source.stem, before, after }, issue, shown),
    },
  };
}

/** A visit with the SHA-256 of every photograph that is at hand, so that another picture makes another revision. */
function visitOf({ bytes, file }: Source, photoFiles: readonly PhotoFile[]): ReadResult<VisitOnFile> {
  const read = readVisit(bytes, file);
  if (!read.ok || read.record.photos === undefined) return read;
  const photos = read.record.photos.map((photo) => {
    const found = photoFiles.find((one) => one.of === file && one.file === photo.file);
    return found === undefined ? photo : { ...photo, sha256: found.sha256 };
  });
  return { ...read, record: { ...read.record, photos } };
}

function found(visit: VisitOnFile): VisitFound {
  return { visit, finding: locate(visit) };
}
