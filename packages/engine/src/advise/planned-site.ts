import type { MessagePath, Path, Person, Site } from "../assess/site.ts";
import type { Sourced } from "../provenance.ts";
import type { Minutes, Ratio, VoltAmperes, Volts, Watts } from "../quantity/index.ts";
import type { AdviceAnswers, Network, QuestionId } from "./answers.ts";

/** Without these no site can be described, and no rule applied. */
const ESSENTIAL = ["place", "strings", "module", "inverter"] as const satisfies readonly QuestionId[];

/** Essential answers that are still missing. */
export function lacking(answers: AdviceAnswers): readonly QuestionId[] {
  return ESSENTIAL.filter((id) => answers[id] === undefined);
}

const ours = {
  source: "estimate of this program; replace it from the site's own record",
  tag: "design choice",
};

type Link = { readonly availability: Ratio; readonly meanOutage: Minutes };
/** How a link behaves that has not been watched yet; the owner's router is taken at the unfavourable end. */
const LINKS = {
  "owners-router": { value: { availability: 0.9, meanOutage: 1440 } as Link, ...ours, tag: "design choice" },
  "own-line": { value: { availability: 0.98, meanOutage: 540 } as Link, ...ours, tag: "design choice" },
  mobile: { value: { availability: 0.97, meanOutage: 360 } as Link, ...ours, tag: "design choice" },
} as const satisfies Readonly<Record<Exclude<Network, "none">, Sourced<Link>>>;

/** The link of a network in words, with where its figures come from; null where none is needed or known. */
export function linkAssumption({ network }: AdviceAnswers): Sourced<string> | null {
  if (network === undefined || network === "none") return null;
  const { value, source, tag } = LINKS[network];
  const words = `the link is up ${Math.round(value.availability * 100)} % of the time, an outage lasts ${value.meanOutage / 60} h on average`;
  return { value: words, source, tag };
}

const HOURLY = 60 as Minutes;
const DAILY = 1440 as Minutes;
const NO_PEOPLE: readonly Person[] = [];

/** The path of one signal as it would be built, with the best practice of the trade. */
function pathOf(signal: Path["signal"], id: string, answers: AdviceAnswers): Path {
  const head = { id, arrays: ["A1"] };
  switch (signal) {
    case "message":
      return {
        ...head,
        signal,
        to: (answers.people ?? NO_PEOPLE).map(({ id }) => id),
        repeatEvery: HOURLY,
        until: ["acknowledged", "cleared"],
        link: { supervisedEvery: DAILY },
      };
    case "annunciator":
      return {
        ...head,
        signal,
        ...(answers.present === undefined ? {} : { listener: { present: answers.present } }),
      };
    case "indicator":
      return { ...head, signal };
  }
}

function inverterOf({ inverter, light, relay }: AdviceAnswers): Site["inverters"][number] {
  return {
    id: "INV1",
    ratedPower: inverter?.ratedPower ?? (5000 as VoltAmperes),
    ...(inverter?.separation === undefined ? {} : { separation: inverter.separation }),
    ...(light === undefined ? {} : { where: light }),
    ...(relay === undefined || relay === "none" ? {} : { relay: { operatesOn: relay } }),
  };
}

function described(answers: AdviceAnswers, signals: readonly Path["signal"][]): Site {
  const {
    id,
    name,
    place,
    installed,
    strings = [1],
    module,
    lowestTemperature,
    earthing,
    mounting,
  } = answers;
  return {
    id: id ?? "new-site",
    ...(name === undefined ? {} : { name }),
    place: place ?? { country: "ZZ" },
    ...(lowestTemperature === undefined ? {} : { lowestTemperature }),
    modules: [{ id: "M1", ...(module ?? { pmax: 400 as Watts, voc: 40 as Volts }) }],
    inverters: [inverterOf(answers)],
    arrays: [
      {
        id: "A1",
        inverter: "INV1",
        module: "M1",
        ...(installed === undefined ? {} : { installed }),
        ...(earthing === undefined ? {} : { earthing }),
        ...(mounting === undefined ? {} : { mounting }),
        strings: strings.map((modules, i) => ({ id: `S${i + 1}`, modules })),
      },
    ],
    people: answers.people ?? NO_PEOPLE,
    paths: signals.map((signal, i) => pathOf(signal, `P${i + 1}`, answers)),
    proofs: [],
  };
}

/**
 * The site as answered, with the paths of a plan as they would be built.
 *
 * Only what was answered is in it: no address is made up, and the link states only what is to be set.
 * @returns null while an essential answer is missing; `lacking` names it
 */
export function adviceSite(answers: AdviceAnswers, signals: readonly Path["signal"][]): Site | null {
  return lacking(answers).length > 0 ? null : described(answers, signals);
}

/** To be recorded before a message can be sent; a plan counts on it. */
const TO_BE_RECORDED = { email: "to-be-recorded" } as const;

/**
 * The site that the time to notice is worked out for: people are taken to get an address, the network to behave as such
 * networks do, and the owner to be told, because the plan says to do all three. Its electrical data may be stand-ins.
 */
export function siteAsPlanned(answers: AdviceAnswers, signals: readonly Path["signal"][]): Site {
  const site = described(answers, signals);
  const { network } = answers;
  const link = network === undefined || network === "none" ? {} : LINKS[network].value;
  const planned = (path: Path): Path =>
    path.signal === "message" ? ({ ...path, link: { ...path.link, ...link } } satisfies MessagePath) : path;
  return {
    ...site,
    people: site.people.map((person) => ({ ...person, address: person.address ?? TO_BE_RECORDED })),
    paths: site.paths.map(planned),
    ownerInformed: { on: answers.installed ?? "2000-01-01" },
  };
}
