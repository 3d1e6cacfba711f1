import type { PathCodeEntry } from "./code-entry.ts";
import { annunciatorCodes } from "./codes-annunciator.ts";
import { contactCodes } from "./codes-contact.ts";
import { indicatorCodes } from "./codes-indicator.ts";
import { lightCodes } from "./codes-light.ts";
import { linkCodes, messageCodes } from "./codes-message.ts";
import { proofCodes } from "./codes-proof.ts";

const entries = {
  ...proofCodes,
  ...messageCodes,
  ...linkCodes,
  ...annunciatorCodes,
  ...contactCodes,
  ...indicatorCodes,
  ...lightCodes,
} as const satisfies Readonly<Record<`PATH_${string}`, PathCodeEntry>>;

export type PathCode = keyof typeof entries;

/** The catalogue entry of a code. */
export function pathCode(code: PathCode): PathCodeEntry {
  return entries[code];
}

/** Every finding the judge of paths can make, in the order detector, proof, message, annunciator, indicator, light. */
export const PATH_CODES: readonly ({ readonly code: PathCode } & PathCodeEntry)[] = (
  Object.keys(entries) as PathCode[]
).map((code) => ({ code, ...entries[code] }));
