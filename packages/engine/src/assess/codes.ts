import type { AssessmentFinding } from "./assessment.ts";
import { ownerCodes } from "./owner-codes.ts";
import { proofResistorCodes } from "./proof-codes.ts";
import { dutyCodes, type SiteCodeEntry } from "./site-codes.ts";

const entries = { ...dutyCodes, ...proofResistorCodes, ...ownerCodes } as const;

export type SiteCode = keyof typeof entries;

/** Every finding about duty, test resistor and owner, for `earthbell explain`. Those about paths are in path/. */
export const SITE_CODES: readonly ({ readonly code: SiteCode } & SiteCodeEntry)[] = (
  Object.keys(entries) as SiteCode[]
).map((code) => ({ code, ...entries[code] }));

/** A finding with the severity, source and tag that its catalogue entry gives it. */
export function siteFinding(
  code: SiteCode,
  text: string,
  figures?: Readonly<Record<string, number>>,
): AssessmentFinding {
  const { severity, source, tag } = entries[code];
  return { code, severity, text, ...(figures === undefined ? {} : { figures }), source, tag };
}
