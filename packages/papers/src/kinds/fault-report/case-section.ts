import { type Case, SIGNS } from "@earthbell/model";
import type { Block, Figure, Table } from "../../content/paper.ts";
import { quantityWords } from "../../content/quantity-words.ts";
import type { FaultRecords } from "./fault-records.ts";
import { instantIn } from "./instant-words.ts";

const MINUTE_MS = 60_000;
/** How the watch writes an acknowledgement into the history of a case. */
const ACKNOWLEDGED = ": acknowledged by ";

interface Milestone {
  readonly what: string;
  readonly at: number | null;
  readonly remark: string;
}

/** What happened when, from the records; what they do not hold is a line to write on. */
export function milestones(records: FaultRecords): readonly Block[] {
  const { zone } = records.site;
  const rows = milestonesOf(records).map(({ what, at, remark }) => [
    what,
    at === null ? "" : instantIn(zone, at),
    remark,
  ]);
  return [
    {
      kind: "table",
      caption: `From the desk's records. Times on the clock of ${zone}, with the distance from UTC`,
      toWrite: true,
      columns: [
        { head: "What", share: 0.28 },
        { head: "Date and time", share: 0.3 },
        { head: "By whom, and remarks", share: 0.42 },
      ],
      rows,
    },
    ...intervals(records),
  ];
}

function milestonesOf({ case: one, signs, told, visits }: FaultRecords): readonly Milestone[] {
  const first = told.toSorted((a, b) => a.at - b.at)[0];
  const acknowledged = acknowledgement(one);
  const visit = visits.toSorted((a, b) => a.begunAt - b.begunAt)[0];
  const found = visits
    .flatMap(({ entries }) => entries)
    .filter(({ kind }) => kind === "found")
    .toSorted((a, b) => a.at - b.at)[0];
  const cause = one?.cause ?? null;
  const named = (step: { readonly at: number; readonly by: string } | null | undefined) => ({
    at: step?.at ?? null,
    remark: step?.by ?? "",
  });
  return [
    {
      what: "Alarm operated",
      at: one?.openedAt ?? null,
      remark: signs.map((sign) => SIGNS[sign].title).join("; "),
    },
    {
      what: "First person told",
      at: first?.at ?? null,
      remark: first === undefined ? "" : `${first.person} by ${first.channel}`,
    },
    { what: "Acknowledged", at: acknowledged?.at ?? null, remark: acknowledged?.by ?? "" },
    { what: "On site", at: visit?.begunAt ?? null, remark: visit?.by ?? "" },
    { what: "Made safe and isolated", at: null, remark: "" },
    { what: "Finding put on record", at: found?.at ?? null, remark: found?.by ?? "" },
    {
      what: "Repaired",
      at: cause?.repairedAt ?? null,
      remark:
        cause === null
          ? ""
          : `${cause.repairedAt === null ? "nothing was repaired; cause" : "cause"} signed by ${cause.by}`,
    },
    { what: "Insulation measured again", ...named(one?.measured) },
    { what: "Owner told in writing", ...named(one?.ownerTold) },
    { what: "Put back to work", at: null, remark: "" },
    { what: "Case closed", ...named(one?.closed) },
  ];
}

function acknowledgement(one: Case | null): Case["timeline"][number] | undefined {
  return one?.timeline.find(({ by, text }) => by !== null && text.includes(ACKNOWLEDGED));
}

/** How long each step took from the alarm on. */
function intervals({ case: one, told }: FaultRecords): readonly Block[] {
  if (one === null) return [];
  const ends = [
    ["the first message handed over", Math.min(...told.map(({ at }) => at))],
    ["somebody's acknowledgement", acknowledgement(one)?.at],
    ["the repair", one.cause?.repairedAt],
    ["the close", one.closed?.at],
  ] as const;
  const rows = ends.flatMap(([what, at]): readonly Figure[] =>
    at === undefined || at === null || !Number.isFinite(at) || at < one.openedAt
      ? []
      : [
          {
            label: `From the alarm to ${what}`,
            value: quantityWords(Math.round((at - one.openedAt) / MINUTE_MS), "duration", 3),
            source: `times of case ${one.id}`,
            tag: "computed",
          },
        ],
  );
  return rows.length === 0 ? [] : [{ kind: "figures", caption: "", rows }];
}

/** Everybody who was told, with the way and the time. */
export function toldTable({ told, site: { zone } }: FaultRecords): Table {
  return {
    kind: "table",
    caption: "Messages that were handed over, from the desk's records",
    columns: [
      { head: "When", share: 0.3 },
      { head: "Who", share: 0.26 },
      { head: "By", share: 0.16 },
      { head: "Path and message", share: 0.28 },
    ],
    rows: told.map(({ at, person, channel, path, kind }) => [
      instantIn(zone, at),
      person,
      channel,
      `path ${path}, ${kind}`,
    ]),
  };
}

/** The whole history of the case, the oldest line first. */
export function timelineTable(one: Case, zone: string): Table {
  return {
    kind: "table",
    caption: `History of case ${one.id}, from the desk's records; lines are only ever added`,
    columns: [
      { head: "When", share: 0.27 },
      { head: "Who", share: 0.18 },
      { head: "What", share: 0.55 },
    ],
    rows: one.timeline.map(({ at, by, text }) => [instantIn(zone, at), by ?? "the watch", text]),
  };
}
