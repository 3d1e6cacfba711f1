import {
  type DrawnScenario,
  type Reading,
  type RequestedReading,
  type SimulatedKind,
  type Truth,
  drawScenario,
  drawTruth,
  firstRequests,
  locate,
  measure,
  seededRandom,
  SIMULATED_KINDS,
  visitOf,
} from "@earthbell/engine";
import { readVisit, visitText } from "@earthbell/model";
import { nearest } from "../command-line/nearest.ts";
import type { UsageFault } from "../command-line/usage-fault.ts";
import { usageText } from "../command-line/usage-text.ts";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { readWhole, sourceName } from "../input/source.ts";
import { faultsText } from "../views/faults-text.ts";
import { mostBytes } from "./document-work.ts";
import { fileStatuses } from "./statuses.ts";

const KINDS = Object.keys(SIMULATED_KINDS) as SimulatedKind[];
/** Digits of a reading that is printed: well below any instrument's error. */
const DIGITS = 6;
/** Largest seed: what the generator takes without losing bits. */
const SEED_LIMIT = 2 ** 31;

export const simulate: Command = {
  name: "simulate",
  summary: "make a practice visit whose truth is known, and answer what a plan asks next",
  operands: { shape: "KIND", least: 1, most: 1, what: "what to simulate" },
  options: [
    {
      name: "seed",
      value: "N",
      help: "a whole number; the same kind and seed are the same array (default 1)",
    },
    {
      name: "answer",
      value: "VISIT",
      help: "a visit made with this kind and seed: print it with the next step's readings added",
    },
    { name: "truth", help: "print where the damage is instead of a visit" },
  ],
  description: [
    `Kinds: ${KINDS.map((kind) => `${kind} (${SIMULATED_KINDS[kind]})`).join("; ")}.`,
    "The array is solved as a whole network, not by the formulas of the finder. Meter, light and mismatch errors are drawn anew for each reading as the visit file states them.",
    "With --answer the finder plans the next step on the visit given, and the simulated array answers each reading that the step asks for. Repeat until the plan is finished, then compare with --truth.",
  ],
  example: {
    line: "earthbell simulate soft --seed 7 > practice.yaml",
    shows: "A visit with its first five readings, ready for: earthbell locate practice.yaml",
  },
  statuses: fileStatuses("a visit or a truth was printed"),
  run: runSimulate,
};

async function runSimulate(call: Call): Promise<ExitStatus> {
  const { arguments: given, page, complain, world } = call;
  const kind = given.operands[0]!;
  const seed = Number(given.value("seed") ?? "1");
  const faults = [...kindFaults(kind), ...seedFaults(given.value("seed"), seed)];
  if (faults.length > 0) {
    await complain(usageText(faults, "earthbell simulate --help", page));
    return exitStatus.wrongInput;
  }
  const random = seededRandom(seed);
  const drawn = drawScenario(kind as SimulatedKind, random);
  const truth = drawTruth(drawn.scenario, random);
  if (given.has("truth")) {
    const { faults, functionalEarth } = drawn.scenario;
    await world.out.write(`${JSON.stringify({ kind, seed, faults, functionalEarth }, null, 2)}\n`);
    return exitStatus.made;
  }
  const notes = [
    `simulated: ${kind}, seed ${String(seed)}; earthbell simulate ${kind} --seed ${String(seed)} --truth says what is damaged`,
  ];
  const answer = given.value("answer");
  if (answer !== undefined) return await answerNext(call, { answer, drawn, truth, seed, notes });
  await world.out.write(
    visitText(visitOf(drawn.scenario, taken(truth, firstRequests(drawn.on), seed, 0)), notes),
  );
  return exitStatus.made;
}

interface Answering {
  readonly answer: string;
  readonly drawn: DrawnScenario;
  readonly truth: Truth;
  readonly seed: number;
  readonly notes: readonly string[];
}

async function answerNext(
  { world, page, complain }: Call,
  { answer, drawn, truth, seed, notes }: Answering,
): Promise<ExitStatus> {
  const source = await readWhole(answer, { world, most: mostBytes });
  const read =
    "code" in source ? { ok: false as const, faults: [source] } : readVisit(source, sourceName(answer), {});
  if (!read.ok) {
    await complain(faultsText(read.faults, page));
    return exitStatus.wrongInput;
  }
  const step = locate(read.record).next[0];
  const requests = step?.readings ?? [];
  if (requests.length === 0) await complain(["The plan is finished: nothing more to measure on this visit."]);
  const readings = [...read.record.readings, ...taken(truth, requests, seed, read.record.readings.length)];
  await world.out.write(visitText({ ...visitOf(drawn.scenario, readings), readings }, notes));
  return exitStatus.made;
}

/** Errors of later readings are drawn anew, and the same visit is always answered alike. */
function taken(truth: Truth, requests: readonly RequestedReading[], seed: number, before: number): Reading[] {
  const random = seededRandom((seed * 7919 + 104_729 * (before + 1)) % SEED_LIMIT);
  return requests.map((request) => {
    const reading = measure(truth, request, random);
    return { ...reading, value: Number(reading.value.toPrecision(DIGITS)) } as Reading;
  });
}

function kindFaults(kind: string): UsageFault[] {
  if ((KINDS as readonly string[]).includes(kind)) return [];
  const close = nearest(kind, KINDS);
  return [
    {
      code: "COMMAND_VALUE_UNKNOWN",
      message: `There is no kind ${JSON.stringify(kind)}; allowed: ${KINDS.join(", ")}.`,
      suggestions: close.map((one) => `earthbell simulate ${one}`),
      lead: "near",
    },
  ];
}

function seedFaults(text: string | undefined, seed: number): UsageFault[] {
  if (Number.isInteger(seed) && seed >= 0 && seed < SEED_LIMIT) return [];
  return [
    {
      code: "COMMAND_VALUE_UNKNOWN",
      message: `--seed ${JSON.stringify(text)} is not a seed; allowed: a whole number from 0 to ${String(SEED_LIMIT - 1)}.`,
      suggestions: [],
      lead: "example",
    },
  ];
}
