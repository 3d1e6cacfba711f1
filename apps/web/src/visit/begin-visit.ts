import type { Instrument, Ohms, PvArray, StringSpec, Visit, Volts } from "@earthbell/engine";
import type { VisitEntry } from "@earthbell/model";
import type { KeptVisit } from "../keep/kept.ts";
import { blankVisit, withEntries } from "../keep/kept-entries.ts";

/** What a person answers before the first reading. */
export interface VisitSetUp {
  readonly title: string;
  readonly strings: readonly { readonly id: string; readonly modules: number }[];
  /** The strings are joined at a combiner. */
  readonly joined: boolean;
  readonly diodes: boolean;
  readonly substrings: number;
  readonly moduleVoc: Volts | null;
  readonly meterInput: Ohms | null;
  readonly tester: boolean;
  readonly clamp: boolean;
  readonly wet: boolean;
}

export function visitFrom(setUp: VisitSetUp): Visit {
  const { strings, joined, diodes, substrings, moduleVoc, meterInput, tester, clamp, wet } = setUp;
  const instruments: Instrument[] = [
    { name: "meter", kind: "voltmeter", ...(meterInput === null ? {} : { inputResistance: meterInput }) },
    ...(tester ? [{ name: "tester", kind: "insulation-tester" } as const] : []),
    ...(clamp ? [{ name: "clamp", kind: "leakage-clamp" } as const] : []),
  ];
  return {
    strings: strings.map(
      ({ id, modules }): StringSpec => ({
        id,
        modules,
        substrings,
        ...(moduleVoc === null ? {} : { moduleVoc }),
      }),
    ),
    circuits:
      joined && strings.length > 1
        ? [{ id: "C1", strings: strings.map(({ id }) => id), ...(diodes ? { blockingDiodes: true } : {}) }]
        : [],
    instruments,
    conditions: { wet },
    readings: [],
    costs: {},
  };
}

/** Strings of an array of a site, as a visit names them. */
export function stringsOf(array: PvArray): VisitSetUp["strings"] {
  return array.strings.map(({ id, modules }) => ({ id, modules }));
}

interface Beginning {
  readonly id: string;
  readonly title: string;
  /** ISO 8601, UTC. */
  readonly now: string;
  readonly visit: Visit;
  readonly exercise?: number;
  readonly place?: KeptVisit["place"];
  /** Cautions that were read before it began. */
  readonly read?: KeptVisit["read"];
}

/** A visit as it begins on this device; readings of a file are its first entries. */
export function keptVisit({
  id,
  title,
  now,
  visit,
  exercise,
  place = null,
  read = {},
}: Beginning): KeptVisit {
  const { readings, ...rest } = visit;
  const begun: KeptVisit = {
    ...blankVisit({ id, title, now, setUp: { ...rest, readings: [] } }),
    place,
    read,
    practice: exercise === undefined ? null : { exercise },
  };
  const recorded = visit.recorded ?? [];
  const entries = readings.map(
    (reading, i): VisitEntry => ({
      ...{ id: `${id}-${i + 1}`, writer: id, n: i + 1, at: Date.parse(now), by: null },
      ...{ kind: "reading", reading, seen: [], recorded },
    }),
  );
  return withEntries(begun, entries);
}

/** The same on no two devices. */
export const newId = (): string => crypto.randomUUID().replaceAll("-", "").slice(0, 20);
