import { isThroughDiodes } from "./through-diodes.ts";
import type { ReadingCode } from "./reading-codes.ts";
import type { Visit } from "./visit.ts";

/** Something about the readings that a person should look into although they fit together. */
export interface ReadingDoubt {
  readonly code: ReadingCode;
  readonly says: string;
}

/** Lengths that the voltages do not bear out, and readings that were left out because of blocking diodes. */
export function doubtsAbout(visit: Visit): ReadingDoubt[] {
  return [...lengthDoubts(visit), ...diodeDoubts(visit)];
}

/** A measured + to − this far from what the file expects of the string asks whether the module count is right. */
const LENGTH_DOUBT = 0.035;

function lengthDoubts(visit: Visit): ReadingDoubt[] {
  return visit.readings.flatMap((reading, index): ReadingDoubt[] => {
    const spec = visit.strings.find((candidate) => candidate.id === reading.on);
    if (
      reading.kind !== "voltage" ||
      reading.to === "earth" ||
      reading.segment ||
      spec?.moduleVoc === undefined
    )
      return [];
    const implied = reading.value / spec.moduleVoc;
    if (Math.abs(implied / spec.modules - 1) < LENGTH_DOUBT) return [];
    return [
      {
        code: "READING_LENGTH_DOUBTFUL",
        says: `reading ${String(index + 1)}: + to − fits ${implied.toFixed(1)} modules of the expected voltage, the file says ${String(spec.modules)}: count the string, make sure it carries no current, or correct the expected voltage`,
      },
    ];
  });
}

function diodeDoubts(visit: Visit): ReadingDoubt[] {
  const left = visit.readings.flatMap((reading, index) =>
    isThroughDiodes(visit, reading) ? [String(index + 1)] : [],
  );
  if (left.length === 0) return [];
  const says = `left out because they were taken through blocking diodes: ${left.length === 1 ? "reading" : "readings"} ${left.join(", ")}`;
  return [{ code: "READING_THROUGH_DIODES", says }];
}
