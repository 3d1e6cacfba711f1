import { type Dimension, formatQuantity, type QuantityOf } from "@earthbell/engine";

/** A quantity in base units as it is printed: `10.3 kΩ`. */
export function quantityWords(value: number, dimension: Dimension, significant = 4): string {
  return formatQuantity(value as QuantityOf[Dimension], dimension, { significant });
}

/** Hours to two figures with their unit, or that it is later than is followed. */
export function laterWords(hours: number | null, followedDays: number): string {
  if (hours === null) return `more than ${followedDays} d`;
  return quantityWords(hours * 60, "duration", 3);
}

export function percent(share: number): string {
  return `${Number((share * 100).toPrecision(3))} %`;
}
