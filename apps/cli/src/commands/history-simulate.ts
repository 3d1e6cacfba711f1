import {
  CLIMATES,
  type ClimateName,
  type HistorySeries,
  type RecordStyle,
  simulateHistory,
  SIMULATED_TROUBLES,
  type SimulatedTrouble,
  type Site,
} from "@earthbell/engine";
import { historyTableText, type InputFault, readSite } from "@earthbell/model";
import type { UsageFault } from "../command-line/usage-fault.ts";
import { usageText } from "../command-line/usage-text.ts";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { readWhole, sourceName } from "../input/source.ts";
import { faultsText } from "../views/faults-text.ts";
import { mostBytes } from "./document-work.ts";
import { fileStatuses } from "./statuses.ts";

const DAY_MS = 86_400_000;
const MOST_DAYS = 7305;

export const historySimulate: Command = {
  name: "history-simulate",
  summary: "make practice insulation histories for the arrays of site files, their truth known",
  operands: { shape: "SITE…", least: 1, most: Infinity, what: "a site file, or - for standard input" },
  options: [
    { name: "seed", value: "N", help: "a whole number; the same seed makes the same readings (default 1)" },
    {
      name: "days",
      value: "N",
      help: "length of the record, ending on the day given (default 1826, five years)",
    },
    { name: "until", value: "DATE", help: "last day of the record (today when left out)" },
    {
      name: "trouble",
      value: "KIND",
      choices: SIMULATED_TROUBLES,
      help: "the same trouble for every array (drawn when left out)",
    },
    {
      name: "climate",
      value: "NAME",
      choices: Object.keys(CLIMATES),
      help: "weather (mild island when left out)",
    },
    {
      name: "style",
      value: "STYLE",
      choices: ["weather", "mornings", "bare"],
      help: "one check with weather (default), half-hourly mornings, or one bare check",
    },
    { name: "truth", help: "print what is wrong with each array instead of readings" },
  ],
  description: [
    "Leaks are added as conductances: a bulk that warms, a film of dew and rain worked out half hour by half hour, corrosion that follows damp and warmth, and an instrument with a ceiling. It is not the model that earthbell history reads with.",
    "The table goes to standard output; arrays are named site/array.",
  ],
  example: {
    line: "earthbell history-simulate demo/sites/creamery.yaml --trouble hard --days 400 --until 2026-11-25",
    shows:
      "A year and some days of mornings; write them to a file with > creamery.csv and read it with earthbell history.",
  },
  statuses: fileStatuses("readings or a truth were printed"),
  run: runSimulate,
};

interface Settings {
  readonly seed: number;
  readonly days: number;
  readonly firstDay: number;
}

async function runSimulate(call: Call): Promise<ExitStatus> {
  const { arguments: given, complain, page, world } = call;
  const settings = settingsOf(call);
  if ("faults" in settings) {
    await complain(usageText(settings.faults, "earthbell help history-simulate", page));
    return exitStatus.wrongInput;
  }
  const sites: Site[] = [];
  for (const operand of given.operands) {
    const read = await siteFrom(call, operand);
    if (!read.ok) {
      await complain(faultsText(read.faults, page));
      return exitStatus.wrongInput;
    }
    sites.push(read.record);
  }
  const made = sites.flatMap((site) =>
    site.arrays.map(({ id }) => makeOne(call, settings, `${site.id}/${id}`)),
  );
  const text = given.has("truth")
    ? `${JSON.stringify(
        made.map(({ array, truth }) => ({ array, trouble: truth.trouble, onsetDay: truth.onsetDay })),
        null,
        2,
      )}\n`
    : historyTableText(made);
  await world.out.write(text);
  return exitStatus.made;
}

async function siteFrom(
  call: Call,
  operand: string,
): Promise<
  | { readonly ok: true; readonly record: Site }
  | { readonly ok: false; readonly faults: readonly InputFault[] }
> {
  const source = await readWhole(operand, { world: call.world, most: mostBytes });
  return "code" in source ? { ok: false, faults: [source] } : readSite(source, sourceName(operand), {});
}

/** Each array draws from a seed of its own, so that adding a site changes no other. */
function makeOne(
  { arguments: given }: Call,
  { seed, days, firstDay }: Settings,
  array: string,
): HistorySeries & { readonly truth: { readonly trouble: SimulatedTrouble; readonly onsetDay: number } } {
  const own = Array.from(array).reduce((sum, sign) => (sum * 31 + sign.charCodeAt(0)) % 1_000_003, seed);
  const trouble =
    (given.value("trouble") as SimulatedTrouble | undefined) ??
    SIMULATED_TROUBLES[own % SIMULATED_TROUBLES.length]!;
  const made = simulateHistory({
    trouble,
    seed: own,
    firstDay,
    days,
    offsetMin: 0,
    climate: CLIMATES[(given.value("climate") as ClimateName | undefined) ?? "mild island"],
    style: (given.value("style") as RecordStyle | undefined) ?? "weather",
  });
  return { array, readings: made.readings, truth: { trouble, onsetDay: made.array.onsetDay } };
}

function settingsOf({
  arguments: given,
  world,
}: Call): Settings | { readonly faults: readonly UsageFault[] } {
  const seed = Number(given.value("seed") ?? "1");
  const days = Number(given.value("days") ?? "1826");
  const until = given.value("until") ?? world.today();
  const last = Date.parse(`${until}T00:00Z`) / DAY_MS;
  const faults: UsageFault[] = [];
  const refuse = (option: string, allowed: string): void => {
    const message = `--${option} ${JSON.stringify(given.value(option))} cannot be used; allowed: ${allowed}.`;
    faults.push({ code: "COMMAND_VALUE_UNKNOWN", message, suggestions: [], lead: "example" });
  };
  if (!Number.isInteger(seed) || seed < 0 || seed >= 2 ** 31)
    refuse("seed", "a whole number from 0 to 2147483647");
  if (!Number.isInteger(days) || days < 1 || days > MOST_DAYS)
    refuse("days", `a whole number from 1 to ${MOST_DAYS}`);
  if (!/^\d{4}-\d\d-\d\d$/u.test(until) || !Number.isInteger(last))
    refuse("until", "a date such as 2026-11-25");
  return faults.length > 0 ? { faults } : { seed, days, firstDay: last - days + 1 };
}
