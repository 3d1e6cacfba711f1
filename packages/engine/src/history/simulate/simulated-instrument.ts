import type { Random } from "../../simulate/random.ts";
import type { SimulatedArray } from "./trouble.ts";

/** The instrument between the array and the record, and what can be wrong with it. */
export class SimulatedInstrument {
  #stuckAt: number | null = null;
  #slipped = false;

  constructor(
    private readonly array: SimulatedArray,
    private readonly random: Random,
  ) {}

  /** Lives through one day of its own troubles. */
  live(day: number): void {
    if (this.array.trouble !== "sensor" || day < this.array.onsetDay) return;
    if (this.#slipped ? this.random.uniform() < 0.05 : this.random.uniform() < 0.03)
      this.#slipped = !this.#slipped;
  }

  /** What it shows for a true resistance. */
  shows(day: number, ohms: number): number {
    const { instrument, trouble, onsetDay, sensor } = this.array;
    const { random } = this;
    const broken = trouble === "sensor" && day >= onsetDay;
    let value = ohms * instrument.gain * Math.exp(instrument.noise * random.normal());
    if (broken && sensor === "noisy") value *= 10 ** (0.7 * random.normal());
    let shown = Number(Math.min(instrument.ceilingOhms, value).toPrecision(instrument.digits));
    if (!broken) return shown;
    if (sensor === "stuck") return (this.#stuckAt ??= Number((shown * 0.8).toPrecision(instrument.digits)));
    if (sensor === "dropouts" && random.uniform() < 0.25) return 0;
    if (sensor === "unit-slip" && this.#slipped) shown /= 1000;
    return shown;
  }
}
