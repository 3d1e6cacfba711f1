import {
  formatQuantity,
  type Dimension,
  type QuantityOf,
  type Site,
  type WeeklyHours,
} from "@earthbell/engine";
import { formatHours } from "./hours.ts";
import { scalarText } from "../yaml/scalar-text.ts";
import { SITE_FORMAT } from "./site-file.ts";

/** Digits that keep a figure of a data sheet whole. */
const DIGITS = { significant: 9 } as const;

/** The fields of a site that are quantities, by their place in it. */
const QUANTITIES: Readonly<Record<string, Dimension>> = {
  "site.lowestTemperature": "temperature",
  "modules.pmax": "real power",
  "modules.voc": "voltage",
  "modules.isc": "current",
  "modules.area": "area",
  "modules.vocTemperatureCoefficient.perKelvin": "relative temperature coefficient",
  "modules.vocTemperatureCoefficient.voltsPerKelvin": "absolute temperature coefficient",
  "inverters.ratedPower": "apparent power",
  "inverters.insulationCheck.threshold": "resistance",
  "inverters.earthFaultInterrupter.rating": "current",
  "inverters.where.viewingDistance": "length",
  "inverters.where.light.intensity": "luminous intensity",
  "inverters.where.light.luminance": "luminance",
  "inverters.where.light.diameter": "length",
  "inverters.where.light.flashLength": "duration",
  "inverters.relay.dcRating.voltage": "voltage",
  "inverters.relay.dcRating.current": "current",
  "arrays.statedMaxVoltage": "voltage",
  "paths.repeatEvery": "duration",
  "paths.link.availability": "ratio",
  "paths.link.meanOutage": "duration",
  "paths.link.supervisedEvery": "duration",
  "paths.loop.supply": "voltage",
  "paths.loop.supplyMinimum": "voltage",
  "paths.loop.battery": "charge",
  "paths.loop.quiescentCurrent": "current",
  "paths.loop.cable.area": "cross-section",
  "paths.loop.cable.length": "length",
  "paths.loop.cable.temperature": "temperature",
  "paths.loop.load.current": "current",
  "paths.loop.load.minimumVoltage": "voltage",
  "paths.loop.load.level": "sound level",
  "paths.loop.load.light.intensity": "luminous intensity",
  "paths.loop.load.light.luminance": "luminance",
  "paths.loop.load.light.diameter": "length",
  "paths.loop.load.light.flashLength": "duration",
  "paths.loop.fuse": "current",
  "paths.listener.distance": "length",
  "paths.listener.barriers": "sound level",
  "paths.listener.ambient": "sound level",
  "assumptions.hardFaults": "ratio",
  "proofs.acknowledgedAfter": "duration",
};
const HOURS: ReadonlySet<string> = new Set(["people.reads", "paths.listener.present"]);

/**
 * A site as the file a person would write, one entry of a list a line. Reading the text gives the same site to nine
 * digits.
 *
 * @param notes  lines put at the top as comments
 */
export function siteText(site: Site, notes: readonly string[] = []): string {
  const { id, name, place, lowestTemperature, ownerInformed, assumptions, ...lists } = site;
  const { latitudeDeg, longitudeDeg, ...where } = place;
  const head = {
    id,
    name,
    place: { ...where, latitude: latitudeDeg, longitude: longitudeDeg },
    lowestTemperature,
  };
  const sections = ["modules", "inverters", "arrays", "people", "paths", "proofs"] as const;
  const lines = [
    ...notes.map((note) => `# ${note.replace(/\s+/gu, " ")}`),
    `format: ${SITE_FORMAT}`,
    "site:",
    ...fieldsOf(head).map(([field, value]) => `  ${field}: ${flow(value, `site.${field}`)}`),
    ...sections.flatMap((section) =>
      lists[section].length === 0
        ? []
        : [`${section}:`, ...lists[section].map((entry) => `  - ${flow(entry, section)}`)],
    ),
    ...(ownerInformed === undefined ? [] : [`ownerInformed: ${flow(ownerInformed, "ownerInformed")}`]),
    ...(assumptions === undefined ? [] : [`assumptions: ${flow(assumptions, "assumptions")}`]),
  ];
  return `${lines.join("\n")}\n`;
}

function fieldsOf(map: object): readonly (readonly [string, unknown])[] {
  return Object.entries(map).filter(([, value]) => value !== undefined);
}

/** A value in YAML's flow style, as its place in a site says: a quantity with its unit, hours as days and hours. */
function flow(value: unknown, place: string): string {
  const dimension = QUANTITIES[place];
  if (HOURS.has(place)) return scalarText(formatHours(value as WeeklyHours));
  if (Array.isArray(value)) return `[${value.map((one: unknown) => flow(one, place)).join(", ")}]`;
  if (typeof value === "number" && dimension !== undefined)
    return formatQuantity(value as QuantityOf[Dimension], dimension, DIGITS);
  if (typeof value === "string") return scalarText(value);
  if (typeof value !== "object" || value === null) return String(value);
  if (place === "modules.vocTemperatureCoefficient") return coefficient(value, place);
  const fields = fieldsOf(value).map(([field, inner]) => `${field}: ${flow(inner, `${place}.${field}`)}`);
  return `{${fields.join(", ")}}`;
}

/** Written as the quantity alone: its unit says which kind it is. */
function coefficient(value: object, place: string): string {
  const [field, size] = fieldsOf(value).find(([, inner]) => typeof inner === "number")!;
  return flow(size, `${place}.${field}`);
}
