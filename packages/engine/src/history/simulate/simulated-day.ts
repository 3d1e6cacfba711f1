import type { Random } from "../../simulate/random.ts";
import type { SimulatedArray } from "./trouble.ts";
import type { DayWeather, HalfHour } from "./weather.ts";

const BOLTZMANN_EV = 8.617333e-5;
const REFERENCE_K = 298.15;

/** What the damage has come to; changed day by day. */
export class Damage {
  /** Decades that the bulk has lost. */
  #lost = 0;
  #contact = false;
  #wander = 0;

  constructor(
    private readonly array: SimulatedArray,
    private readonly random: Random,
  ) {}

  /** Lives through one day: corrosion goes with damp and warmth, contact with wind. */
  live(day: number, weather: DayWeather): void {
    const { array, random } = this;
    this.#wander = 0.9 * this.#wander + 0.02 * random.normal();
    if (day < array.onsetDay) return;
    if (array.trouble === "progressive") this.#corrode(weather);
    if (array.trouble === "intermittent") {
      const windy = Math.min(1, (weather.windMs / 4) ** 1.5 * array.contactShare);
      const likely = this.#contact ? 0.45 : windy * 0.75;
      this.#contact = random.uniform() < likely;
    }
  }

  #corrode(weather: DayWeather): void {
    const noon = weather.halfHours[20]!;
    const damp = 0.4 + 1.2 * (noon.humidityPercent / 100) ** 2;
    const warm = 2 ** ((noon.temperatureC - 18) / 15);
    const daily = (this.array.decadesPerYear / 365) * damp * Math.min(2.5, Math.max(0.4, warm));
    this.#lost += daily * Math.max(0, 1 + 0.8 * this.random.normal());
  }

  /** Conductance to earth of bulk, surface and fault [S]. */
  conductance(day: number, now: HalfHour): number {
    const { array } = this;
    const kelvin = now.temperatureC + 0.028 * now.irradianceWm2 + 273.15;
    const warmth = Math.exp((array.bulkEv / BOLTZMANN_EV) * (1 / REFERENCE_K - 1 / kelvin));
    const bulk = (warmth * 10 ** (this.#lost + this.#wander)) / array.dryOhms;
    // Ions in the film move like those in the bulk: cold water leaks less.
    const surface = (warmth * array.wetRatio * now.film ** 1.3) / array.dryOhms;
    return bulk + surface * 10 ** (0.5 * this.#lost) + this.#fault(day, now.film);
  }

  #fault(day: number, film: number): number {
    const { trouble, onsetDay, faultOhms } = this.array;
    if (day < onsetDay) return 0;
    const path = 10 ** (2 * this.#wander) / faultOhms;
    if (trouble === "hard") return path;
    if (trouble === "moisture-driven") return path * Math.max(0, film - 0.05) ** 0.8;
    return trouble === "intermittent" && this.#contact ? path : 0;
  }

  /** Resistance of the dry array at 25 °C, without weather [Ω]: what a forecast of the dry baseline is held against. */
  dryOhms(day: number): number {
    const { array } = this;
    const hard = array.trouble === "hard" && day >= array.onsetDay ? 1 / array.faultOhms : 0;
    return 1 / (10 ** this.#lost / array.dryOhms + hard);
  }
}
