import type { Random } from "../../simulate/random.ts";
import type { Climate } from "./climate.ts";

/** Half hours of a day that are followed: midnight to 15:00. */
const HALF_HOURS = 30;

/** The weather of one half hour at the array. */
export interface HalfHour {
  readonly temperatureC: number;
  readonly humidityPercent: number;
  readonly rainMm: number;
  readonly irradianceWm2: number;
  /** Water on the modules' surface, 0 dry to 1 covered. */
  readonly film: number;
}

export interface DayWeather {
  readonly halfHours: readonly HalfHour[];
  readonly windMs: number;
}

/** Sky, rain and air of a whole day, carried over from the day before. */
interface Day {
  warmthK: number;
  cloud: number;
  rainy: boolean;
  dewPointC: number;
  windMs: number;
}

const YEAR = 365.25;

/** Weather day by day, half hour by half hour: a chain of days, dew by a mass balance on the cooled glass. */
export class WeatherMaker {
  #day: Day;
  #film = 0;

  constructor(
    private readonly climate: Climate,
    private readonly random: Random,
  ) {
    this.#day = { warmthK: 0, cloud: climate.cloud, rainy: false, dewPointC: 0, windMs: climate.windMs };
  }

  next(dayOfYear: number): DayWeather {
    const mean = this.#nextDay(dayOfYear);
    const swing = this.climate.dayK * (1 - 0.75 * this.#day.cloud);
    const rain = this.#rainOf();
    const halfHours: HalfHour[] = [];
    for (let k = 0; k < HALF_HOURS; k++) halfHours.push(this.#halfHour(k, mean, swing, rain));
    // The afternoon dries what is left; an evening shower wets it again.
    this.#film = this.#day.rainy && this.random.uniform() < 0.4 ? 0.8 : 0;
    return { halfHours, windMs: this.#day.windMs };
  }

  #nextDay(dayOfYear: number): number {
    const { climate, random } = this;
    const day = this.#day;
    const season = climate.seasonK * Math.cos((2 * Math.PI * (dayOfYear - climate.warmestDay)) / YEAR);
    day.warmthK = 0.75 * day.warmthK + 1.7 * random.normal();
    day.rainy = random.uniform() < (day.rainy ? climate.rainLasts : climate.rainBegins);
    const sky = day.rainy ? 0.8 : climate.cloud;
    day.cloud = Math.min(1, Math.max(0, sky + 0.3 * (day.cloud - sky) + 0.25 * random.normal()));
    day.windMs = Math.max(0.2, climate.windMs * Math.exp(0.5 * random.normal() - 0.12));
    const mean = climate.meanC + season + day.warmthK;
    const dryness = climate.drynessK * (day.rainy ? 0.4 : 1) * Math.exp(0.35 * random.normal());
    day.dewPointC = mean - dryness;
    return mean;
  }

  #rainOf(): { readonly from: number; readonly to: number; readonly mm: number } | null {
    if (!this.#day.rainy) return null;
    const from = Math.floor(this.random.uniform() * 48);
    const to = from + 2 + Math.floor(this.random.uniform() * 12);
    return { from, to, mm: 0.2 + -0.8 * Math.log(1 - this.random.uniform()) };
  }

  #halfHour(
    k: number,
    mean: number,
    swing: number,
    rain: { readonly from: number; readonly to: number; readonly mm: number } | null,
  ): HalfHour {
    const hour = k / 2;
    const { cloud, dewPointC, windMs } = this.#day;
    // Coldest about 05:30, warmest about 14:30.
    const temperatureC = mean - swing * Math.cos((Math.PI * (hour - 5.5)) / 9.5);
    const sun = hour <= 6 ? 0 : Math.sin((Math.PI * (hour - 6)) / 12);
    const irradianceWm2 = 950 * sun * (1 - 0.75 * cloud);
    const cooling = hour < 7 ? ((1 - cloud) * 5) / (1 + windMs / 4) : 0;
    const surfaceC = temperatureC - cooling + 0.028 * irradianceWm2;
    const dew = Math.min(dewPointC, temperatureC);
    const raining = rain !== null && k >= rain.from && k < rain.to;
    const gain = 0.09 * (dew - surfaceC);
    this.#film = raining ? 1 : Math.min(1, Math.max(0, this.#film + (gain > 0 ? gain : 0.6 * gain)));
    return {
      temperatureC,
      humidityPercent: 100 * Math.min(1, pressure(dew) / pressure(temperatureC)),
      rainMm: raining ? rain.mm : 0,
      irradianceWm2,
      film: this.#film,
    };
  }
}

/** Saturation vapour pressure, Tetens 1930 [memory], up to a factor. */
function pressure(celsius: number): number {
  return Math.exp((17.27 * celsius) / (celsius + 237.3));
}
