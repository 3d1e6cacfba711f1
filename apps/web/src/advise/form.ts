import { withDecimalPoint } from "../page/typed-number.ts";

/** The form as it is typed; a blank field is an answer not known. */
export interface AdviceForm {
  readonly name: string;
  readonly country: string;
  readonly region: string;
  readonly timezone: string;
  readonly latitude: string;
  readonly longitude: string;
  readonly installed: string;
  readonly strings: string;
  readonly pmax: string;
  readonly voc: string;
  readonly coefficient: string;
  readonly area: string;
  readonly lowest: string;
  readonly rated: string;
  readonly separation: string;
  readonly earthing: string;
  readonly mounting: string;
  readonly people: readonly PersonRow[];
  readonly present: string;
  readonly network: string;
  readonly passes: string;
  readonly distance: string;
  readonly accessible: string;
  readonly relay: string;
}

export interface PersonRow {
  readonly id: string;
  readonly role: string;
  readonly email: string;
  readonly reads: string;
  readonly checks: string;
}

export const BLANK_PERSON: PersonRow = {
  id: "",
  role: "owner",
  email: "",
  reads: "Mon-Fri 08:00-17:00",
  checks: "4",
};

export const BLANK_FORM: AdviceForm = {
  name: "",
  country: "",
  region: "",
  timezone: "",
  latitude: "",
  longitude: "",
  installed: "",
  strings: "",
  pmax: "",
  voc: "",
  coefficient: "",
  area: "",
  lowest: "",
  rated: "",
  separation: "",
  earthing: "",
  mounting: "",
  people: [],
  present: "",
  network: "",
  passes: "",
  distance: "",
  accessible: "",
  relay: "",
};

type Value = string | number | boolean | readonly unknown[] | object | undefined;

/** An object of what is answered; undefined where nothing is. */
function given(fields: Readonly<Record<string, Value>>): Readonly<Record<string, Value>> | undefined {
  const known = Object.entries(fields).filter(([, value]) => value !== undefined);
  return known.length === 0 ? undefined : Object.fromEntries(known);
}

const text = (typed: string): string | undefined => (typed.trim() === "" ? undefined : typed.trim());
/** With its unit; what is no number is passed on as typed, so that the reader of the answers says what is wrong with it. */
const measure = (typed: string, unit: string): string | undefined =>
  text(typed) === undefined ? undefined : `${withDecimalPoint(typed.trim())} ${unit}`;
const number = (typed: string): number | string | undefined => {
  const written = typed.trim().replace(",", ".");
  if (written === "") return undefined;
  return Number.isFinite(Number(written)) ? Number(written) : written;
};

/** The answers as a file of the format `earthbell.advice/1`; JSON is YAML. */
export function adviceText(form: AdviceForm): string {
  const id = form.name
    .trim()
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/gu, "-")
    .replaceAll(/^-|-$/gu, "");
  const answers = given({
    format: "earthbell.advice/1",
    site: given({ id: text(id), name: text(form.name) }),
    place: text(form.country) === undefined ? undefined : place(form),
    installed: text(form.installed),
    strings:
      text(form.strings) === undefined
        ? undefined
        : form.strings
            .split(/[\s,;]+/u)
            .filter(Boolean)
            .map(number),
    module:
      text(form.pmax) === undefined || text(form.voc) === undefined
        ? undefined
        : given({
            pmax: measure(form.pmax, "W"),
            voc: measure(form.voc, "V"),
            vocTemperatureCoefficient: measure(form.coefficient, "%/K"),
            area: measure(form.area, "m2"),
          }),
    lowestTemperature: measure(form.lowest, "°C"),
    inverter:
      text(form.rated) === undefined
        ? undefined
        : given({ ratedPower: measure(form.rated, "kVA"), separation: text(form.separation) }),
    earthing: text(form.earthing),
    mounting: text(form.mounting),
    people: form.people.length === 0 ? undefined : form.people.map(person),
    present: text(form.present),
    network: text(form.network),
    light: given({
      accessible: form.accessible === "" ? undefined : form.accessible === "yes",
      passesPerDay: number(form.passes),
      viewingDistance: measure(form.distance, "m"),
    }),
    relay: text(form.relay),
  });
  return JSON.stringify(answers, null, 2);
}

function place({ country, region, timezone, latitude, longitude }: AdviceForm) {
  return given({
    country: country.trim().toUpperCase(),
    region: text(region.toUpperCase()),
    timezone: text(timezone),
    latitude: number(latitude),
    longitude: number(longitude),
  });
}

function person({ id, role, email, reads, checks }: PersonRow) {
  return given({
    id: text(id) ?? "somebody",
    role: text(role),
    address: given({ email: text(email) }),
    reads: text(reads),
    checksPerDay: number(checks),
  });
}
