import {
  type Blunder,
  BLUNDERS,
  drawTruth,
  exactReading,
  firstRequests,
  locate,
  measure,
  measureWithBlunder,
  oneString,
  paralleled,
  type Random,
  seededRandom,
  type Visit,
  visitOf,
  withWrongLength,
} from "@earthbell/engine";

export interface Slips {
  readonly slip: string;
  readonly code: string;
  readonly cases: number;
  /** Said to be wrong, whatever was blamed. */
  readonly flagged: number;
  /** The spoiled reading named before any other. */
  readonly namedFirst: number | null;
  /** The slip's own code among those of the finding. */
  readonly coded: number;
}

const CODES: Readonly<Record<Blunder, string>> = {
  "leads-swapped": "READING_LEADS_SWAPPED",
  "meter-on-ac": "READING_METER_ON_AC",
  "still-in-parallel": "READING_STRING_CONNECTED",
  "millivolts-as-volts": "READING_PREFIX_WRONG",
  "digits-shifted": "READING_DIGIT_SHIFTED",
  "light-changed": "READING_LIGHT_CHANGED",
};

/** Spoilings too small to see (3 % and 1 V) are drawn again. */
const isVisible = (shown: number, honest: number): boolean =>
  Math.abs(shown - Math.abs(honest)) >= 0.03 * Math.abs(honest) + 1;

interface Spoiled {
  readonly visit: Visit;
  readonly reading: number;
}

/** One of the first readings spoiled by each slip in turn, and strings written down with a wrong length. */
export function slips(seed: number, cases: number): Slips[] {
  const spoiled = BLUNDERS.map((blunder, order): Slips => {
    const random = seededRandom(seed + order);
    const draw = blunder === "still-in-parallel" ? leftJoined : (given: Random) => oneSpoiled(given, blunder);
    const sum = { flagged: 0, first: 0, coded: 0 };
    for (let done = 0; done < cases; ) {
      const drawn = draw(random);
      if (drawn === null) continue;
      done++;
      const finding = locate(drawn.visit);
      sum.flagged += Number(finding.verdict === "inconsistent");
      sum.first += Number(finding.suspect[0]?.reading === drawn.reading);
      sum.coded += Number((finding.codes as readonly string[]).includes(CODES[blunder]));
    }
    return {
      slip: blunder,
      code: CODES[blunder],
      cases,
      flagged: sum.flagged / cases,
      namedFirst: sum.first / cases,
      coded: sum.coded / cases,
    };
  });
  return [...spoiled, wrongLength(seed + BLUNDERS.length, cases)];
}

function oneSpoiled(random: Random, blunder: Blunder): Spoiled | null {
  const drawn = oneString(random, [10, 1.6e6]);
  const truth = drawTruth(drawn.scenario, random);
  const requests = firstRequests(drawn.on);
  const poles = blunder === "leads-swapped";
  const reading = poles ? 1 + Math.floor(4 * random.uniform()) : Math.floor(5 * random.uniform());
  const readings = requests.map((request, i) =>
    i === reading ? measureWithBlunder(truth, request, blunder, random) : measure(truth, request, random),
  );
  if (!isVisible(readings[reading]!.value, exactReading(truth, requests[reading]!))) return null;
  return { visit: visitOf(drawn.scenario, readings), reading };
}

/** A circuit read as it stands, then its damaged string alone; before one of its readings it was joined again. */
function leftJoined(random: Random): Spoiled | null {
  const drawn = paralleled(random, [10, 1.6e6]);
  const truth = drawTruth(drawn.scenario, random);
  const [fault] = drawn.scenario.faults;
  if (fault === undefined || !("string" in fault)) return null;
  const joined = firstRequests(drawn.on).map((request) => measure(truth, request, random));
  const requests = firstRequests(fault.string);
  // + to − is the same joined or not.
  const spoiled = 1 + Math.floor(4 * random.uniform());
  const alone = requests.map((request, i) =>
    i === spoiled
      ? measureWithBlunder(truth, request, "still-in-parallel", random)
      : measure(truth, request, random),
  );
  if (!isVisible(alone[spoiled]!.value, exactReading(truth, requests[spoiled]!))) return null;
  return { visit: visitOf(drawn.scenario, [...joined, ...alone]), reading: joined.length + spoiled };
}

function wrongLength(seed: number, cases: number): Slips {
  const random = seededRandom(seed);
  let coded = 0;
  for (let i = 0; i < cases; i++) {
    const drawn = oneString(random, [10, 1.6e6]);
    const truth = drawTruth(drawn.scenario, random);
    const readings = firstRequests(drawn.on).map((request) => measure(truth, request, random));
    const finding = locate(withWrongLength(visitOf(drawn.scenario, readings), "S1", random));
    coded += Number(finding.codes.includes("READING_LENGTH_DOUBTFUL"));
  }
  const slip = "string one to three modules too long or short in the file";
  return {
    slip,
    code: "READING_LENGTH_DOUBTFUL",
    cases,
    flagged: coded / cases,
    namedFirst: null,
    coded: coded / cases,
  };
}
