import { createContext, useContext } from "react";

/** What is wrong with each field of a form, by its place. */
export type FieldFaults = ReadonlyMap<string, string>;

export const FieldFaultsShown = createContext<FieldFaults>(new Map());

export function useFieldFault(at: string): string | undefined {
  return useContext(FieldFaultsShown).get(at);
}

/** The id of the element that a place of the form is typed into. */
export const idOfField = (at: string): string => `field-${at}`;

/** A fault of a file, as the reader of files and the desk tell it. */
interface Fault {
  readonly code: string;
  readonly field: string;
  readonly allowed: string;
  readonly message: string;
}

const MISSING = new Set(["INPUT_FIELD_MISSING", "INPUT_LIST_LENGTH_WRONG"]);

/** Nothing is typed there yet: said in a list, and not at the field, where somebody is about to type it. */
export const isMissing = ({ code }: Pick<Fault, "code">): boolean => MISSING.has(code);

/** Faults by the fields of the form at which they lie. */
export function fieldFaults(faults: readonly Fault[], placeOf: (field: string) => string): FieldFaults {
  return new Map(
    faults.map((fault) => [
      placeOf(fault.field),
      isMissing(fault) ? "Missing." : `${fault.message} Allowed: ${fault.allowed}.`,
    ]),
  );
}
