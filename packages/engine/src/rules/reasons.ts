import type { Reason } from "../assess/assessment.ts";
import type { Site } from "../assess/site.ts";
import { type Choice, couldBeAdoptedBy } from "./candidates.ts";
import { holds } from "./case.ts";
import { decisiveFacts, type outcomesOf } from "./cases.ts";
import { voltageText } from "../limits/max-voltage.ts";
import { type ArrayParts, type Fact, LONGEST_WORK_DAYS, type Work } from "./known-facts.ts";
import { isAside, isOverridden } from "./override-values.ts";
import type { Alarm, RulePack, Window } from "./pack.ts";

interface Decided {
  readonly parts: ArrayParts;
  readonly site: Site;
  readonly work: Work;
  readonly choice: Choice;
  readonly outcomes: ReturnType<typeof outcomesOf>;
  readonly facts: readonly Fact[];
  readonly alarm: Alarm;
}

/** Why the duty is as it is: rows, voltage, days, dates, choice of the pack, unknown facts that do not matter, notes. */
export function reasonsFor(decided: Decided): readonly Reason[] {
  return unique([
    ...rowReasons(decided),
    ...passedReasons(decided),
    ...voltageReasons(decided),
    ...dayReasons(decided),
    ...windowReasons(decided),
    ...choiceReasons(decided),
    ...inverterReasons(decided.parts),
    ...indifferentFacts(decided),
    ...noteReasons(decided),
  ]);
}

function rowReasons({ outcomes }: Decided): readonly Reason[] {
  return outcomes.flatMap(({ pack, row }) =>
    pack === null || row === null
      ? []
      : [{ text: `${row.text} (pack ${pack.id}, row ${row.id})`, source: row.source, tag: row.tag }],
  );
}

/** A row above the one that decides was passed over because of its bounds: where somebody overrode them, that is said. */
function passedReasons({ outcomes }: Decided): readonly Reason[] {
  return outcomes.flatMap(({ pack, row }) => {
    if (pack === null) return [];
    const decides = row === null ? pack.duty.length : pack.duty.indexOf(row);
    return pack.duty
      .slice(0, decides)
      .filter((passed) => isOverridden(passed) || isAside(passed))
      .map(({ id, source, tag }) => ({
        text: `Row ${id} of pack ${pack.id} does not hold here, with its bound as ${tag === "user" ? "it was overridden" : "the pack has it: an override of it is set aside"}.`,
        source,
        tag,
      }));
  });
}

function voltageReasons({ parts }: Decided): readonly Reason[] {
  const { max, atLeastV } = parts.voltage;
  if (max !== null)
    return [
      {
        text: `Highest array voltage ${voltageText(max.volts)}: ${max.text}.`,
        source: max.source,
        tag: max.tag,
      },
    ];
  if (atLeastV === 0) return [];
  return [
    {
      text: `The highest array voltage is not known; on the coldest day it is at least ${voltageText(atLeastV)}.`,
      source: "open-circuit voltage at standard test conditions, which cold raises",
      tag: "computed",
    },
  ];
}

function dayReasons({ parts, work }: Decided): readonly Reason[] {
  return [
    ...(work.done === undefined ? [] : [`Array ${parts.array.id} was ${work.what} on ${work.done}.`]),
    ...(work.begun === undefined ? [] : [`The work began on ${work.begun}.`]),
  ].map((text) => ({ text, source: `arrays ${parts.array.id}`, tag: "user" as const }));
}

function windowReasons({ outcomes, site }: Decided): readonly Reason[] {
  return outcomes.flatMap(({ pack, window }) => {
    if (pack === null || window === null) return [];
    const may = window.binding === "choice" ? "may be followed, whole and unmixed, for" : "applies to";
    const work = window.basis === "work-begun" ? "work begun" : "work done";
    return [
      {
        text: `${pack.title}: this edition ${may} ${work} ${span(window)}.${confirm(window, site)}`,
        source: window.source,
        tag: window.tag,
      },
    ];
  });
}

function span({ from, until }: Window): string {
  const first = from === undefined ? "" : `from ${from}`;
  const last = until === undefined ? "" : `until ${until}`;
  return [first, last].filter((part) => part !== "").join(" ");
}

function confirm({ publishedFor }: Window, { place }: Site): string {
  if (publishedFor === undefined || publishedFor.includes(place.region ?? "")) return "";
  return ` The dates were published for ${publishedFor.join(", ")}; confirm them for ${place.region ?? "the region, which the file does not state"}.`;
}

function choiceReasons({ choice, site, work, outcomes }: Decided): readonly Reason[] {
  const pack = choice.packs[0];
  if (choice.by === "adoption") return laterEditions(choice, work);
  if (choice.by !== "named" || pack === undefined) {
    const assumesDuration =
      outcomes.some(({ window }) => window?.basis === "work-begun") && work.begun === undefined;
    return assumesDuration
      ? [
          {
            text: `The rule goes by the day on which the work began. The file does not state it; the work is taken to have lasted at most ${LONGEST_WORK_DAYS} days.`,
            source: "bound on the length of the work",
            tag: "design choice",
          },
        ]
      : [];
  }
  return [
    { text: `The site file names ${pack.title}.`, source: "site.place.rules.pack", tag: "user" },
    ...mismatch(pack, site, work),
  ];
}

function laterEditions({ packs }: Choice, { done, what }: Work): readonly Reason[] {
  const later = packs.filter((pack) => !couldBeAdoptedBy(pack, done ?? "")).map(({ id }) => id);
  if (later.length === 0) return [];
  return [
    {
      text: `Left out as later than the work, so that no authority can have adopted them by then: ${later.join(", ")} (array ${what} on ${done!}).`,
      source: "an edition is issued at the earliest in the year before the one it bears",
      tag: "memory",
    },
  ];
}

function mismatch(pack: RulePack, site: Site, work: Work): readonly Reason[] {
  const elsewhere =
    pack.jurisdictions.length > 0 &&
    !pack.jurisdictions.some((jurisdiction) => jurisdiction.country === site.place.country);
  const day = work.done;
  const outside =
    day !== undefined &&
    pack.inForce.length > 0 &&
    !pack.inForce.some(
      ({ basis, from, until }) => basis === "work-begun" || (day >= (from ?? "") && day <= (until ?? "9999")),
    );
  return [
    ...(elsewhere ? [`Its jurisdictions do not include ${site.place.country}.`] : []),
    ...(day !== undefined && pack.inForce.length === 0 && !couldBeAdoptedBy(pack, day)
      ? [
          `It is later than the work (${work.what} on ${day}), so it cannot have been adopted by then. Check it.`,
        ]
      : []),
    ...(outside ? [`Its own dates would not choose it for work ${work.what} on ${day}.`] : []),
  ].map((text) => ({ text, source: `pack ${pack.id}`, tag: "user" as const }));
}

function inverterReasons({ inverter }: ArrayParts): readonly Reason[] {
  const texts = {
    microinverter:
      "Behind microinverters only the modules on one input are in series; the voltage is that of one input.",
    "ac-module":
      "In an AC module the direct-current wiring is inside the unit; the voltage is that of one input.",
    "dc-dc":
      "Behind DC-DC units the modules' voltages do not add up to the string's; only the maker's stated voltage counts.",
    "storage-coupled":
      "Storage shares the direct-current side: the rule is judged for the array; what the battery side adds in voltage or earthing is not judged.",
  } as const;
  if (inverter.kind === undefined || inverter.kind === "string") return [];
  return [{ text: texts[inverter.kind], source: `inverters ${inverter.id}: kind`, tag: "design choice" }];
}

/** An answer may be given although a fact is missing, when it is the same either way: that is said. */
function indifferentFacts({ facts, outcomes, alarm }: Decided): readonly Reason[] {
  if (alarm === "undecided") return [];
  const decisive = decisiveFacts(outcomes, facts);
  return facts
    .filter((fact) => fact.values.length > 1 && !decisive.includes(fact))
    .map((fact) => ({
      text: `Not stated: ${fact.missing.join("; ")}. The answer is the same whatever it is.`,
      source: "every case of the packs worked through",
      tag: "computed",
    }));
}

function noteReasons({ outcomes }: Decided): readonly Reason[] {
  return outcomes.flatMap(({ pack, given }) =>
    (pack?.notes ?? [])
      .filter((note) => (note.when ?? []).every((condition) => holds(condition, given, pack!)))
      .map(({ text, source, tag }) => ({ text, source, tag })),
  );
}

/** Each reason once, in the order given. */
export function unique(reasons: readonly Reason[]): readonly Reason[] {
  return [...new Map(reasons.map((reason) => [reason.text + reason.source, reason])).values()];
}
