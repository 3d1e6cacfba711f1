import { formatQuantity, type Ohms } from "../quantity/index.ts";

/** A resistance for a sentence, three digits. */
export function evidenceOhms(log10Ohms: number): string {
  return formatQuantity((10 ** log10Ohms) as Ohms, "resistance", { significant: 3 });
}
