import {
  CAUTIONS,
  formatQuantity,
  type Inverter,
  type Path,
  type Person,
  type Site,
} from "@earthbell/engine";
import { type Json, jsonOf } from "../../identity/canonical.ts";
import { type Language, numberWords } from "../../language/language.ts";

/** The day on which the safety text in force was last read against its sources, and who answers for it. */
export function safetyTextReview(): { readonly owner: string; readonly on: string } {
  const newest = CAUTIONS.reduce((one, other) => (other.reviewedOn > one.reviewedOn ? other : one));
  return { owner: newest.owner, on: newest.reviewedOn };
}

/** What of a site file the owner's notice says something about; a change elsewhere makes no new notice. */
export function noticeInput(site: Site): Json {
  const { id, name, inverters, people, paths, arrays } = site;
  const relevant = {
    id,
    name,
    arrays: arrays.map((array) => ({ id: array.id, inverter: array.inverter })),
    inverters: inverters.map((inverter) => ({
      id: inverter.id,
      where: inverter.where,
      operatesOn: inverter.relay?.operatesOn,
    })),
    people: people.map(({ id: person, role, address, until }) => ({ id: person, role, address, until })),
    paths,
    safetyText: safetyTextReview().on,
  };
  return jsonOf(relevant);
}

export function invertersOf(path: Path, site: Site): readonly Inverter[] {
  const ids = new Set(
    site.arrays.filter(({ id }) => path.arrays.includes(id)).map(({ inverter }) => inverter),
  );
  return site.inverters.filter(({ id }) => ids.has(id));
}

/** Who is called first: the service people, else the installer, holding their post on the day. */
export function whomToCall(site: Site, onDate: string): readonly Person[] {
  const holding = site.people.filter(({ until }) => until === undefined || until >= onDate);
  const service = holding.filter(({ role }) => role === "service");
  return service.length > 0 ? service : holding.filter(({ role }) => role === "installer");
}

/** `45 m`, or nothing where it is not stated. */
export function distanceWords(metres: Inverter["where"] | number | undefined, language: Language): string {
  const value = typeof metres === "number" ? metres : metres?.viewingDistance;
  return value === undefined ? "" : numberWords(`${Number(value.toPrecision(3))} m`, language);
}

export function intervalWords(path: Extract<Path, { signal: "message" }>, language: Language): string {
  const { repeatEvery: every } = path;
  if (every === undefined) return "";
  // An hour reads as minutes: "every 60 min" is plainer than "every 1 h".
  const written = every === 60 ? "60 min" : formatQuantity(every, "duration");
  return numberWords(written, language);
}
