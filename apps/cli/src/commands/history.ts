import {
  drawHistory,
  type HistoryContext,
  type ReadHistory,
  readHistory,
  type Site,
} from "@earthbell/engine";
import { columnsText, type HistoryTable, readHistoryTable } from "@earthbell/model";
import { usageText } from "../command-line/usage-text.ts";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { readWhole, sourceName } from "../input/source.ts";
import { writeWhole } from "../output/write-whole.ts";
import { errorRecord, faultsText } from "../views/faults-text.ts";
import { fleetHistoryText } from "../views/history-fleet-text.ts";
import { historyText } from "../views/history-text.ts";
import { readAbout } from "./history-about.ts";
import { arrayOptions, columnOptions, historySettings, type HistorySettings } from "./history-options.ts";
import { fileStatuses } from "./statuses.ts";
import { svgOption, writeDrawing } from "./write-drawing.ts";

/** Tables are longer than records: five years of quarter hours for some arrays. */
const mostTableBytes = 256 * 1024 * 1024;

export const history: Command = {
  name: "history",
  summary: "read morning insulation figures: what kind of trouble, how sure, when at the threshold",
  operands: {
    shape: "TABLE…",
    least: 1,
    most: Infinity,
    what: "a CSV table of readings, or - for standard input",
  },
  options: [
    { name: "json", help: "print JSON for programs instead of a page" },
    svgOption("the history"),
    ...arrayOptions,
    ...columnOptions,
    {
      name: "fleet",
      help: "compare all arrays: what those that drift have in common, and where to go first",
    },
    {
      name: "about",
      value: "FILE",
      help: "with --fleet: a table of what each array is (array,site,module,connector,…)",
    },
  ],
  description: [
    "The table has a line a reading: instant and insulation resistance, and where they are known the array, temperature, humidity, rain and irradiance. Gaps, repetitions, any order and an instrument that stops at its ceiling are reckoned with.",
    "The verdict comes with its probability and the evidence for it. A forecast is an interval, and says so when the threshold is not within five years. Too few mornings give no verdict.",
  ],
  example: {
    line: "earthbell history demo/histories/creamery.csv --site demo/sites/creamery.yaml",
    shows: "The verdict, the last years as a line, the forecast, the next bad dawns and what to do.",
  },
  statuses: fileStatuses("a history was read, whatever it says"),
  run: runHistory,
};

interface Named extends ReadHistory {
  readonly title: string;
}

async function runHistory(call: Call): Promise<ExitStatus> {
  const { complain, page, arguments: given } = call;
  const asked = await historySettings(call);
  if (!asked.ok) {
    await complain([
      ...faultsText(asked.faults, page),
      ...(asked.usage.length === 0 ? [] : usageText(asked.usage, "earthbell help history", page)),
    ]);
    return exitStatus.wrongInput;
  }
  const { settings } = asked;
  const read: Named[] = [];
  for (const operand of given.operands) {
    const found = await readOne(call, operand, settings);
    if (found === null) return exitStatus.wrongInput;
    read.push(...found);
  }
  const saved = await save(call, settings);
  if (saved !== exitStatus.made) return saved;
  if (given.has("fleet")) return await compareFleet(call, read);
  if (given.has("json")) await printJson(call, read);
  else
    for (const [index, one] of read.entries())
      await call.print([...(index === 0 ? [] : ["", ""]), ...historyText(one, page)]);
  const drawings = read.map((one) => ({
    drawing: drawHistory(one),
    askedBy: `--array ${one.finding.array}`,
  }));
  return await writeDrawing(call, history.name, given.has("svg") ? drawings : []);
}

async function readOne(
  call: Call,
  operand: string,
  settings: HistorySettings,
): Promise<readonly Named[] | null> {
  const source = await readWhole(operand, { world: call.world, most: mostTableBytes });
  const title = sourceName(operand);
  const table =
    "code" in source
      ? { ok: false as const, faults: [source] }
      : readHistoryTable(source, title, settings.columns);
  const chosen = table.ok ? choose(call, table.record, title) : table;
  if (!chosen.ok) {
    if (call.arguments.has("json"))
      await call.world.out.write(`${JSON.stringify(errorRecord(chosen.faults), null, 2)}\n`);
    await call.complain(faultsText(chosen.faults, call.page));
    return null;
  }
  return chosen.arrays.map((series) => ({
    title,
    ...readHistory(series, contextFor(series.array, settings)),
  }));
}

type Chosen =
  | { readonly ok: true; readonly arrays: HistoryTable["arrays"] }
  | { readonly ok: false; readonly faults: Parameters<typeof faultsText>[0] };

function choose(call: Call, { arrays }: HistoryTable, file: string): Chosen {
  const id = call.arguments.value("array");
  if (id === undefined) return { ok: true, arrays };
  const found = arrays.filter(({ array }) => array === id);
  if (found.length > 0) return { ok: true, arrays: found };
  const fault = {
    code: "COMMAND_PART_UNKNOWN",
    file,
    line: null,
    column: null,
    field: "--array",
    value: id.slice(0, 60),
    allowed: arrays
      .map(({ array }) => array)
      .slice(0, 20)
      .join(", "),
    message: `The table has no array ${JSON.stringify(id)}.`,
  };
  return { ok: false, faults: [fault] };
}

/** Without a zone all instants name theirs, and mornings are reckoned in UTC. */
function contextFor(
  array: string,
  { columns, site, threshold, ceilingOhms }: HistorySettings,
): HistoryContext {
  const ofSite = site === null ? null : siteThreshold(site, array);
  const used = threshold ?? ofSite ?? null;
  return {
    timezone: columns.zone ?? "UTC",
    ...(used === null ? {} : { threshold: used }),
    ...(ceilingOhms === null ? {} : { ceilingOhms }),
  };
}

/** The threshold that the inverter of an array is set to, as its site file states it. */
function siteThreshold(site: Site, array: string): NonNullable<HistoryContext["threshold"]> | null {
  const part = site.arrays.find(({ id }) => id === array || `${site.id}/${id}` === array) ?? onlyOne(site);
  const inverter = site.inverters.find(({ id }) => id === part?.inverter);
  const value = inverter?.insulationCheck?.threshold;
  return value === undefined ? null : { value, source: `${site.id}, inverter ${inverter!.id}`, tag: "user" };
}

function onlyOne({ arrays }: Site): Site["arrays"][number] | undefined {
  return arrays.length === 1 ? arrays[0] : undefined;
}

async function save(call: Call, { columns }: HistorySettings): Promise<ExitStatus> {
  const file = call.arguments.value("save-columns");
  if (file === undefined) return exitStatus.made;
  const fault = await writeWhole(file, columnsText(columns));
  if (fault === null) return exitStatus.made;
  await call.complain(usageText([fault], "earthbell help history", call.page));
  return exitStatus.wrongInput;
}

async function printJson({ world }: Call, read: readonly Named[]): Promise<void> {
  const findings = read.map(({ finding }) => finding);
  const [only] = findings;
  await world.out.write(`${JSON.stringify(findings.length === 1 ? only : findings, null, 2)}\n`);
}

async function compareFleet(call: Call, read: readonly Named[]): Promise<ExitStatus> {
  const fleet = await readAbout(call, read);
  if (fleet === null) return exitStatus.wrongInput;
  if (call.arguments.has("json")) await call.world.out.write(`${JSON.stringify(fleet, null, 2)}\n`);
  else await call.print(fleetHistoryText(fleet, call.page));
  return exitStatus.made;
}
