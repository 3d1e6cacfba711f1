import type { QuestionId } from "@earthbell/engine";

/** How one answer is typed on one line, and the field of a file of answers that the line stands for. */
export interface TypedForm {
  /** What to type, with an example. */
  readonly form: string;
  /** The field as a file would hold it; whether it is sound is the reader's to say. */
  readonly field: (text: string) => unknown;
}

const word: TypedForm["field"] = (text) => text.toLowerCase();

export const TYPED_FORMS: Readonly<Record<QuestionId, TypedForm>> = {
  place: {
    form: "country and region, then what you have of zone, latitude and longitude: AU-VIC Australia/Melbourne -37.1 143.9",
    field: placeField,
  },
  installed: { form: "a day: 2019-03-14", field: (text) => text },
  strings: { form: "modules in each string: 14, 13; equal strings also as 2 x 14", field: stringsField },
  module: {
    form: "power and open-circuit voltage, then what you have of coefficient, short-circuit current and area: 410 W, 49.5 V, -0.27 %/K, 10.9 A, 1.95 m2",
    field: moduleField,
  },
  lowestTemperature: {
    form: "degrees Celsius: -3 °C",
    field: (text) => (/^[-+−]?\d+(?:\.\d+)?$/u.test(text) ? `${text} °C` : text),
  },
  inverter: {
    form: "rated power, and none or simple for the separation if known: 10 kVA none",
    field: inverterField,
  },
  earthing: { form: "floating, functional or solid", field: word },
  mounting: { form: "building or field", field: word },
  people: {
    form: "who, reading hours and looks a day, with ; between people: owner Mon-Sun 06:00-21:00, 4 a day; service Mon-Fri 07:00-17:00, 10 a day; or nobody",
    field: peopleField,
  },
  present: { form: "hours: Mon-Sun 05:00-10:00, 15:00-19:00; or always, never", field: (text) => text },
  network: { form: "none, owners-router, own-line or mobile", field: word },
  light: { form: "passes a day and distance: 6, 4 m; or locked", field: lightField },
  relay: { form: "none, any-fault or earth-fault", field: word },
};

const isNumber = (text: string): boolean => /^[-+]?\d+(?:\.\d+)?$/u.test(text);
/** A number for the reader to judge, or the text as it was typed for the reader to refuse. */
const numberOr = (text: string): unknown => (isNumber(text) ? Number(text) : text);

function placeField(text: string): unknown {
  const [place = "", ...rest] = text.replaceAll(",", " ").replaceAll("−", "-").trim().split(/\s+/u);
  const [country = "", region] = place.toUpperCase().split("-");
  const [latitude, longitude, ...more] = rest.filter(isNumber).map(Number);
  const [timezone, ...others] = rest.filter((part) => !isNumber(part));
  const tooMany = [...more.map(String), ...others];
  return {
    country,
    ...(region === undefined ? {} : { region }),
    ...(timezone === undefined ? {} : { timezone: [timezone, ...tooMany].join(" ") }),
    ...(latitude === undefined ? {} : { latitude }),
    ...(longitude === undefined ? {} : { longitude }),
  };
}

const MOST_EQUAL = 5000;

function stringsField(text: string): unknown {
  return text.split(",").flatMap((part) => {
    const [, count, modules] = /^(\d{1,4})\s*[x×*]\s*(\d+)$/u.exec(part.trim()) ?? [];
    if (count === undefined) return [numberOr(part.trim())];
    return Array.from({ length: Math.min(MOST_EQUAL + 1, Number(count)) }, () => Number(modules));
  });
}

/** Quantities of a data sheet tell by their unit which field they are. */
const BY_UNIT: readonly (readonly [RegExp, string])[] = [
  [/\/\s*(?:K|°C)$/u, "vocTemperatureCoefficient"],
  [/(?:m2|m²|m\^2)$/u, "area"],
  [/W$/u, "pmax"],
  [/V$/u, "voc"],
  [/A$/u, "isc"],
  [/^(?:crystalline-silicon|thin-film)$/u, "technology"],
];

function moduleField(text: string): unknown {
  const parts = text.split(/[,;]/u).map((part) => part.trim());
  return Object.fromEntries(
    parts.map((part) => [BY_UNIT.find(([unit]) => unit.test(part))?.[1] ?? part.slice(0, 30), part]),
  );
}

function inverterField(text: string): unknown {
  const separation = /[\s,]+(\w+)$/u.exec(text)?.[1];
  if (separation === undefined || /VA$/u.test(separation)) return { ratedPower: text };
  const ratedPower = text.slice(0, -separation.length).replace(/[\s,]+$/u, "");
  return { ratedPower, separation: separation.toLowerCase() };
}

const ROLES: ReadonlySet<string> = new Set(["owner", "service", "installer", "occupant", "other"]);

function peopleField(text: string): unknown {
  if (/^(?:nobody|none)$/iu.test(text)) return [];
  return text.split(";").map((part) => {
    const [, id = "", rest = ""] = /^(\S+)\s*(.*)$/su.exec(part.trim()) ?? [];
    const [, before, looks] = /^(.*?)[\s,]*(\d+(?:\.\d+)?) a day$/su.exec(rest) ?? [];
    const reads = before ?? rest;
    return {
      id,
      ...(ROLES.has(id) ? { role: id } : {}),
      ...(reads === "" ? {} : { reads }),
      ...(looks === undefined ? {} : { checksPerDay: Number(looks) }),
    };
  });
}

function lightField(text: string): unknown {
  if (/^locked$/iu.test(text)) return { accessible: false };
  const [passes = "", viewingDistance] = text.split(",").map((part) => part.trim());
  return {
    accessible: true,
    passesPerDay: numberOr(passes.replace(/ a day$/u, "")),
    ...(viewingDistance === undefined ? {} : { viewingDistance }),
  };
}
