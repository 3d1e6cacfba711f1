import type { Sourced } from "../provenance.ts";

/** One insulation reading of an array, with the weather where somebody noted it. */
export interface HistoryReading {
  /** Instant, epoch milliseconds UTC. */
  readonly at: number;
  /** Insulation resistance to earth [Ω]. */
  readonly ohms: number;
  /** The instrument was at its end: the true value is this or more, or this or less. */
  readonly bound?: "at-least" | "at-most";
  /** Air [°C]. */
  readonly temperatureC?: number;
  /** Relative humidity of the air, 0 to 100. */
  readonly humidityPercent?: number;
  /** Rain since midnight, or of the last twelve hours [mm]. */
  readonly rainMm?: number;
  /** In the plane of the modules [W/m²]. */
  readonly irradianceWm2?: number;
}

export interface HistorySeries {
  readonly array: string;
  /** In any order. */
  readonly readings: readonly HistoryReading[];
}

/** What has to be known beside the readings. A field that is absent is unknown. */
export interface HistoryContext {
  /** IANA zone of the site: mornings are local. */
  readonly timezone: string;
  /** Insulation below which the alarm operates [Ω]. */
  readonly threshold?: Sourced<number>;
  /** Upper and lower end of the instrument [Ω]; found from the readings when left out. */
  readonly ceilingOhms?: number;
  readonly floorOhms?: number;
}
