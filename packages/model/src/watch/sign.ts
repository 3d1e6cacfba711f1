import type { Grounds } from "./grounds.ts";

/** What an alarm is about. */
export type Subject =
  | { readonly kind: "array"; readonly array: string }
  /** person: the one recipient who cannot be reached; null for the path as a whole. */
  | { readonly kind: "path"; readonly path: string; readonly person: string | null };

export interface SignTraits {
  readonly title: string;
  /** Once seen it stays on record until a named person signs a cause, whatever the detector says later. */
  readonly latches: boolean;
  /** It means that the array has, or had, an earth fault: it opens a case. */
  readonly opensCase: boolean;
  /** While it is active the fault is there now: no cause can be signed. */
  readonly faultPresent: boolean;
  /** How often it is repeated: as the path says, or once a day. */
  readonly repeats: "as-the-path-says" | "daily";
}

const fault = {
  latches: true,
  opensCase: true,
  faultPresent: true,
  repeats: "as-the-path-says",
} as const;
const upkeep = { latches: false, opensCase: false, faultPresent: false, repeats: "daily" } as const;

/** Every kind of sign that the watch knows. */
export const SIGNS = {
  "earth-fault-bit": { title: "earth fault reported", ...fault },
  "insulation-low": { title: "insulation below its threshold", ...fault },
  "residual-trip": { title: "residual-current trip", ...fault },
  "dawn-recurring": { title: "fault that comes back by dawn", ...upkeep, opensCase: true },
  "insulation-drifting": { title: "insulation drifting down", ...upkeep },
  "detector-stuck": { title: "detector stuck at one value", ...upkeep },
  "detector-silent": { title: "no insulation check this morning", ...upkeep },
  "path-silent": { title: "path silent", ...upkeep },
  "drill-missed": { title: "drill not answered", ...upkeep },
} as const satisfies Readonly<Record<string, SignTraits>>;

export type SignKind = keyof typeof SIGNS;

/** A detector's word that something began or ended; what the alarm of that kind is fed with. */
export interface Sign {
  readonly site: string;
  readonly subject: Subject;
  readonly sign: SignKind;
  readonly change: "set" | "cleared";
  readonly at: number;
  /** Idempotency: the same reading gives the same key. */
  readonly key: string;
  readonly reason: Grounds;
}
