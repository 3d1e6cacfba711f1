import type { ArrayAssessment } from "../assess/assessment.ts";
import type { Inverter, Path, PvArray, Site } from "../assess/site.ts";
import { figure, listed } from "../path/judgement.ts";
import { preconditionsFor } from "../safety/index.ts";
import { type Expected, leftOut, type ProofStep, stepOf } from "./proof-step.ts";

export interface AlarmProof {
  readonly site: Site;
  readonly path: Path;
  readonly array: PvArray;
  readonly inverter: Inverter;
  readonly assessment: ArrayAssessment;
  /** YYYY-MM-DD; without it a post that ends is taken as held. */
  readonly onDate?: string;
}

type Resistor = NonNullable<ArrayAssessment["proofResistor"]>;

/** Longest time the test resistor stays connected [min]. */
export const RESISTOR_LIMIT_MIN = 15;
/** A drill acknowledged later than this counts as slow [min]. */
const ACKNOWLEDGED_AT_LATEST_MIN = 1440;
/** From this residual current on, a sudden step makes a running inverter trip (see RESIDUAL_STEPS). */
const SMALLEST_STEP_MILLIAMPS = 30;
const ours = { source: "rule of this program", tag: "design choice" } as const;
const parallel = { source: "resistances side by side: 1/(1/R + 1/R)", tag: "computed" } as const;

const kiloOhms = (ohms: number): string => `${figure(ohms / 1000, 2)} kΩ`;

/** Why no resistor may be connected; null where one may. */
function refusal({ assessment, array, inverter }: AlarmProof): string | null {
  const { proofResistor: resistor, insulationThreshold, maxVoltage } = assessment;
  if (resistor !== null) return resistor.permitted ? null : resistor.warnings[0]!;
  if (array.earthing === undefined)
    return `Whether array ${array.id} is earthed is not stated. Record it and plan again.`;
  if (array.earthing !== "floating")
    return "One pole is earthed: a resistor from the other pole would be a fault. Use the maker's own test.";
  if (inverter.kind !== undefined && inverter.kind !== "string")
    return `A test resistor cannot be stated for ${inverter.kind} equipment. Use the maker's own test.`;
  if (insulationThreshold === null)
    return "The insulation at which the alarm must operate is not settled. See earthbell assess.";
  if (maxVoltage === null)
    return "The highest voltage of the array is not known, so no resistor can be rated. See earthbell assess.";
  return "No test resistor can be stated. See earthbell assess.";
}

function resistorWords({ ohms, watts, milliamps, elements, series }: Resistor): string {
  const single = `${kiloOhms(ohms)}, rated ${figure(watts)} W, in an enclosed case; it carries ${figure(milliamps)} mA`;
  if (elements === 1) return single;
  return `${single}; or ${elements} equal ones of ${kiloOhms(series.ohmsEach)}, rated ${figure(series.wattsEach)} W each, in series in one enclosed case`;
}

function wire({ array }: AlarmProof, resistor: Resistor): ProofStep {
  return stepOf("prove-alarm", {
    id: "wire-test-resistor",
    do: `While array ${array.id} is still isolated, wire the test resistor at terminals on the inverter's side of the open isolator, proved dead, from one pole to earth through an open switch rated for the direct voltage: ${resistorWords(resistor)}.`,
    warnings: resistor.warnings,
    requires: [...preconditionsFor("prove-alarm"), "array-isolated-both-poles"],
    expected: [
      {
        text: "measured before use, not more than",
        value: resistor.atMostOhms,
        dimension: "resistance",
        bound: "at-most",
        ...parallel,
      },
    ],
  });
}

function connect({ inverter, assessment, path }: AlarmProof): ProofStep {
  const least = assessment.insulationTest?.minimumOhms;
  const found: readonly Expected[] =
    least === undefined
      ? []
      : [
          {
            text: "insulation shown by the inverter, without the resistor, at least",
            value: least,
            dimension: "resistance",
            bound: "at-least",
            source: "the insulation test just passed",
            tag: "computed",
          },
        ];
  return stepOf("restore", {
    id: "connect",
    do: `Join array and inverter again, start ${inverter.id} and wait until it has checked the insulation and feeds in.`,
    expected: [...found, { text: `path ${path.id} silent`, ...ours }],
  });
}

function operate(proof: AlarmProof, resistor: Resistor): ProofStep {
  const { inverter, assessment } = proof;
  const continuous = inverter.insulationCheck?.at.includes("continuous") === true;
  const atRest = !continuous || resistor.milliamps >= SMALLEST_STEP_MILLIAMPS;
  const how = atRest
    ? `Stop ${inverter.id}, close the switch of the test resistor, and start it again`
    : "Close the switch of the test resistor";
  const sound = assessment.insulationTest?.minimumOhms;
  const least = sound === undefined ? null : 1 / (1 / resistor.ohms + 1 / sound);
  const between =
    least === null
      ? "insulation shown by the inverter, at most"
      : `insulation shown by the inverter, from ${kiloOhms(least)} up to`;
  return stepOf("prove-alarm", {
    id: "close-test-resistor",
    do: `${how}. Note the time: it stays connected for ${RESISTOR_LIMIT_MIN} min at most.`,
    warnings: resistor.warnings,
    expected: [
      { text: between, value: resistor.ohms, dimension: "resistance", bound: "at-most", ...parallel },
    ],
  });
}

/** What the path gives out, in plain words. */
function signalWords({ path, array, site, assessment, inverter }: AlarmProof): string {
  switch (path.signal) {
    case "message": {
      const limit = assessment.insulationThreshold?.ohms;
      const below = limit === undefined ? "" : `, insulation below ${kiloOhms(limit)}`;
      return `a message that says: earth fault on array ${array.id} of ${site.name ?? site.id}${below}; keep off the roof, frames, cables and gutters; call the number given; the panels stay live in daylight`;
    }
    case "annunciator":
      return `the ${path.loop?.load?.kind ?? "annunciator"} of path ${path.id} operates and is noticed where people are meant to notice it`;
    case "indicator":
      return `the light of ${inverter.id} shows a fault${inverter.where?.description === undefined ? "" : `, ${inverter.where.description}`}`;
  }
}

function acknowledger({ path, site, onDate }: AlarmProof): string {
  if (path.signal !== "message") return "somebody of the site who was not told the time beforehand";
  const holders = site.people.filter(
    ({ id, until }) =>
      path.to.includes(id) && (until === undefined || onDate === undefined || until >= onDate),
  );
  const able = holders.filter(({ address }) => Object.values(address ?? {}).some((one) => one !== ""));
  return able.length === 0
    ? "nobody: no recipient holds the post and has an address"
    : listed(able.map(({ id }) => id));
}

function acknowledge(proof: AlarmProof): ProofStep {
  const { path } = proof;
  const repeat = path.signal === "message" ? path.repeatEvery : undefined;
  const first = repeat === undefined ? "" : `before it is repeated after ${figure(repeat)} min, and `;
  return stepOf("prove-alarm", {
    id: "alarm-operates",
    do: "Watch the inverter and the path, from outside the reach of the array.",
    requires: [],
    expected: [
      { text: signalWords(proof), ...ours },
      { text: `acknowledged by: ${acknowledger(proof)}`, ...ours },
      {
        text: `acknowledged ${first}at the latest within`,
        value: ACKNOWLEDGED_AT_LATEST_MIN,
        dimension: "duration",
        bound: "at-most",
        ...ours,
      },
    ],
  });
}

function clearAndRecord({ path, onDate, inverter }: AlarmProof): readonly ProofStep[] {
  return [
    stepOf("prove-alarm", {
      id: "part-test-resistor",
      do: `Open the switch of the test resistor as soon as the alarm has operated, and after ${RESISTOR_LIMIT_MIN} min whatever has happened. Do not wait for the acknowledgement.`,
      requires: [],
    }),
    stepOf("restore", {
      id: "alarm-clears",
      do: `Clear the fault at ${inverter.id} once, as its maker says, and wait for its next check.`,
      expected: [{ text: `no fault shown, path ${path.id} silent again`, ...ours }],
    }),
    stepOf("isolate-string", {
      id: "remove-test-resistor",
      do: "Isolate the array again as in the first step, prove it dead, and take the resistor and its wiring away.",
      requires: preconditionsFor("isolate-string").filter((id) => id !== "array-isolated-both-poles"),
    }),
    stepOf("arrive", {
      id: "record",
      do: `Record it under proofs: {path: ${path.id}, kind: test-resistor, on: ${onDate ?? "YYYY-MM-DD"}, by: …, acknowledgedAfter: … min}.`,
      requires: [],
    }),
  ];
}

const RESISTOR_STEPS: readonly (readonly [string, string])[] = [
  ["close-test-resistor", "Connect the test resistor."],
  ["alarm-operates", "See the alarm operate and be acknowledged."],
  ["part-test-resistor", "Part the test resistor."],
  ["alarm-clears", "See the alarm clear."],
  ["record", "Record the proof."],
];

/** From joining the array again to its being put back to work. Without a resistor the proof stays in sight, left out. */
export function alarmSteps(proof: AlarmProof): readonly ProofStep[] {
  const why = refusal(proof);
  const resistor = proof.assessment.proofResistor;
  const restore = stepOf("restore", {
    id: "restore",
    do: "Put covers, labels and switches back, start the inverter and tell the owner that the test is over.",
    expected: [{ text: `path ${proof.path.id} silent, the inverter feeds in`, ...ours }],
  });
  if (why !== null || resistor === null) {
    const text = why ?? "No test resistor can be stated. See earthbell assess.";
    return [
      leftOut("wire-test-resistor", "Wire the test resistor.", text),
      connect(proof),
      ...RESISTOR_STEPS.map(([id, words]) => leftOut(id, words, text)),
      restore,
    ];
  }
  return [
    wire(proof, resistor),
    connect(proof),
    operate(proof, resistor),
    acknowledge(proof),
    ...clearAndRecord(proof),
    restore,
  ];
}
