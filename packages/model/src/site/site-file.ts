import type { WeeklyHours } from "@earthbell/engine";
import * as z from "zod";
import {
  chosenBy,
  choice,
  count,
  day,
  id,
  map,
  number,
  patterned,
  text,
  wholeChoice,
  yesNo,
  zone,
} from "../fields/plain-fields.ts";
import { LONGEST_LIST } from "../fields/entries.ts";
import { list } from "../fields/list-field.ts";
import { quantityFields, temperatureCoefficient } from "../fields/quantity-field.ts";
import { refuse } from "../fields/refusal.ts";
import { parseHours } from "./hours.ts";

/**
 * The format `earthbell.site/1` as its file writes it. Ranges are wide: they catch slips of prefix and digit, not poor design.
 * A quantity without a unit is refused, because in a site file nobody is there to ask.
 */
const { quantity } = quantityFields("refuse");

/** Above 200 modules in series a string of the lowest module voltages in use would leave every PV voltage class (1500 V DC). */
export const MOST_MODULES_IN_SERIES = 200;
export const SITE_FORMAT = "earthbell.site/1";

export function weeklyHours() {
  const allowed = 'days and hours, such as "Mon-Fri 07:00-17:00, Sat 08:00-12:00", "always" or "never"';
  return z
    .string({ error: allowed })
    .meta({ description: allowed })
    .transform((written, context): WeeklyHours => {
      const result = parseHours(written);
      if (result.ok) return result.hours;
      refuse(context, written, { code: "INPUT_HOURS_INVALID", allowed, message: result.message });
      return z.NEVER;
    });
}

export const place = map({
  country: patterned(/^[A-Z]{2}$/u, "a country code of two capital letters (ISO 3166-1), such as AU"),
  region: patterned(
    /^[A-Z0-9]{1,3}$/u,
    "the part after the hyphen of a region code (ISO 3166-2), such as VIC",
  ).exactOptional(),
  timezone: zone().exactOptional(),
  latitude: number(-90, 90).exactOptional(),
  longitude: number(-180, 180).exactOptional(),
  rules: map({ pack: id().exactOptional() }).exactOptional(),
}).transform(({ latitude, longitude, ...rest }) => ({
  ...rest,
  ...(latitude === undefined ? {} : { latitudeDeg: latitude }),
  ...(longitude === undefined ? {} : { longitudeDeg: longitude }),
}));

/** The coldest and the hottest air measured at a station are about -89 °C and 57 °C. */
export const airTemperature = () => quantity("temperature", { from: "-90 °C", to: "60 °C" });

const head = map({
  id: id(),
  name: text().exactOptional(),
  place,
  lowestTemperature: airTemperature().exactOptional(),
});

/** A module type but for its id. */
export const moduleFields = {
  technology: choice("crystalline-silicon", "thin-film").exactOptional(),
  pmax: quantity("real power", { from: "1 W", to: "2 kW" }),
  voc: quantity("voltage", { from: "0.5 V", to: "500 V" }),
  isc: quantity("current", { from: "10 mA", to: "100 A" }).exactOptional(),
  vocTemperatureCoefficient: temperatureCoefficient().exactOptional(),
  area: quantity("area", { from: "0.01 m2", to: "20 m2" }).exactOptional(),
  substrings: count(1, 24).exactOptional(),
};

const moduleType = map({ id: id(), ...moduleFields });

export const inverterFields = {
  ratedPower: quantity("apparent power", { from: "10 VA", to: "20 MVA" }),
  separation: choice("none", "simple").exactOptional(),
};

/** How an inverter's own light can be seen. */
export const lightFields = {
  accessible: yesNo().exactOptional(),
  passesPerDay: number(0, 10_000).exactOptional(),
  viewingDistance: quantity("length", { from: "0.1 m", to: "1 km" }).exactOptional(),
};

/** What a light gives towards the people who should see it. */
const light = map({
  intensity: quantity("luminous intensity", { from: "0.1 mcd", to: "1000 kcd" }).exactOptional(),
  luminance: quantity("luminance", { from: "1 cd/m2", to: "100000 kcd/m2" }).exactOptional(),
  diameter: quantity("length", { from: "1 mm", to: "1 m" }).exactOptional(),
  colour: choice("red", "amber", "green", "blue", "white").exactOptional(),
  flashesPerMinute: number(0, 1200).exactOptional(),
  flashLength: quantity("duration", { from: "0.0001 s", to: "1 min" }).exactOptional(),
  background: choice("bright-day", "overcast-or-indoors", "twilight", "night").exactOptional(),
});

const inverter = map({
  id: id(),
  ...inverterFields,
  kind: choice("string", "microinverter", "ac-module", "dc-dc", "storage-coupled").exactOptional(),
  insulationCheck: map({
    threshold: quantity("resistance", { from: "100 Ω", to: "1 GΩ" }).exactOptional(),
    at: list(choice("start", "continuous"), 1, 2),
  }).exactOptional(),
  residualMonitor: yesNo().exactOptional(),
  earthFaultInterrupter: map({
    rating: quantity("current", { from: "1 mA", to: "1000 A" }).exactOptional(),
  }).exactOptional(),
  where: map({
    description: text().exactOptional(),
    ...lightFields,
    light: light.exactOptional(),
  }).exactOptional(),
  relay: map({
    dcRating: map({
      voltage: quantity("voltage", { from: "1 V", to: "2000 V" }),
      current: quantity("current", { from: "1 mA", to: "1000 A" }),
    }).exactOptional(),
    operatesOn: choice("any-fault", "earth-fault").exactOptional(),
  }).exactOptional(),
  defaultPasswordChanged: yesNo().exactOptional(),
});

export const earthing = () => choice("floating", "functional", "solid");
export const mounting = () => choice("building", "field");
export const modulesInString = () => count(1, MOST_MODULES_IN_SERIES);
export const MOST_STRINGS = 5000;

const pvArray = map({
  id: id(),
  inverter: id(),
  module: id(),
  installed: day().exactOptional(),
  altered: day().exactOptional(),
  workBegan: day().exactOptional(),
  statedMaxVoltage: quantity("voltage", { from: "1 V", to: "5000 V" }).exactOptional(),
  earthing: earthing().exactOptional(),
  mounting: mounting().exactOptional(),
  strings: list(map({ id: id(), modules: modulesInString() }), 1, MOST_STRINGS),
});

export const person = map({
  id: id(),
  role: choice("owner", "service", "installer", "occupant", "other").exactOptional(),
  address: map({
    email: patterned(/^[^\s@]+@[^\s@]+$/u, "an e-mail address").exactOptional(),
    phone: patterned(
      /^\+?[\d ()/.-]{3,30}$/u,
      "a telephone number of digits, with + for the country",
    ).exactOptional(),
    webhook: patterned(
      /^https?:\/\/\S+$/u,
      "a web address that begins with https:// or http://",
    ).exactOptional(),
  }).exactOptional(),
  reads: weeklyHours().exactOptional(),
  timezone: zone().exactOptional(),
  checksPerDay: number(0, 1440).exactOptional(),
  away: list(map({ from: day(), to: day() }), 0, 1000).exactOptional(),
  until: day().exactOptional(),
});

const pathHead = { id: id(), arrays: list(id(), 1, LONGEST_LIST) };

const messagePath = map({
  ...pathHead,
  signal: z.literal("message"),
  to: list(id(), 1, 1000),
  repeatEvery: quantity("duration", { from: "1 min", to: "366 d" }).exactOptional(),
  until: list(choice("acknowledged", "cleared"), 0, 2).exactOptional(),
  link: map({
    availability: quantity("ratio", { from: "0", to: "1" }).exactOptional(),
    meanOutage: quantity("duration", { from: "1 s", to: "3660 d" }).exactOptional(),
    supervisedEvery: quantity("duration", { from: "1 s", to: "366 d" }).exactOptional(),
  }).exactOptional(),
});

const loop = map({
  supply: quantity("voltage", { from: "1 V", to: "400 V" }).exactOptional(),
  supplyMinimum: quantity("voltage", { from: "0.5 V", to: "400 V" }).exactOptional(),
  battery: quantity("charge", { from: "1 mAh", to: "10000 Ah" }).exactOptional(),
  quiescentCurrent: quantity("current", { from: "0 A", to: "100 A" }).exactOptional(),
  cable: map({
    area: quantity("cross-section", { from: "0.05 mm2", to: "1000 mm2" }),
    class: wholeChoice(1, 2, 5).exactOptional(),
    tinned: yesNo().exactOptional(),
    length: quantity("length", { from: "0 m", to: "20 km" }),
    temperature: quantity("temperature", { from: "-60 °C", to: "150 °C" }).exactOptional(),
  }).exactOptional(),
  load: map({
    kind: choice("sounder", "beacon", "lamp", "relay"),
    current: quantity("current", { from: "0.1 mA", to: "100 A" }),
    minimumVoltage: quantity("voltage", { from: "0 V", to: "400 V" }).exactOptional(),
    level: quantity("sound level", { from: "20 dB", to: "150 dB" }).exactOptional(),
    light: light.exactOptional(),
    flybackDiode: yesNo().exactOptional(),
  }).exactOptional(),
  fuse: quantity("current", { from: "1 mA", to: "1000 A" }).exactOptional(),
  sense: choice("energise-to-alarm", "de-energise-to-alarm").exactOptional(),
  supervised: yesNo().exactOptional(),
});

const annunciatorPath = map({
  ...pathHead,
  signal: z.literal("annunciator"),
  loop: loop.exactOptional(),
  listener: map({
    distance: quantity("length", { from: "0.1 m", to: "10 km" }).exactOptional(),
    barriers: list(quantity("sound level", { from: "0 dB", to: "100 dB" }), 0, 20).exactOptional(),
    ambient: quantity("sound level", { from: "0 dB", to: "140 dB" }).exactOptional(),
    present: weeklyHours().exactOptional(),
  }).exactOptional(),
});

const indicatorPath = map({ ...pathHead, signal: z.literal("indicator") });

const proof = map({
  path: id(),
  kind: choice("drill", "test-resistor"),
  on: day(),
  by: text().exactOptional(),
  acknowledgedAfter: quantity("duration", { from: "0 min", to: "366 d" }).exactOptional(),
});

export const siteFile = map({
  format: z.literal(SITE_FORMAT, { error: SITE_FORMAT }),
  site: head,
  modules: list(moduleType, 1, LONGEST_LIST),
  inverters: list(inverter, 1, LONGEST_LIST),
  arrays: list(pvArray, 1, LONGEST_LIST),
  people: list(person, 0, LONGEST_LIST).exactOptional(),
  paths: list(
    chosenBy("signal", ["message", "annunciator", "indicator"], messagePath, annunciatorPath, indicatorPath),
    0,
    LONGEST_LIST,
  ).exactOptional(),
  proofs: list(proof, 0, LONGEST_LIST).exactOptional(),
  ownerInformed: map({ on: day(), document: text().exactOptional() }).exactOptional(),
  assumptions: map({ hardFaults: quantity("ratio", { from: "0", to: "1" }).exactOptional() }).exactOptional(),
});
