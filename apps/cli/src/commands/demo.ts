import { join, relative } from "node:path";
import { assessSite, explain, locate } from "@earthbell/engine";
import { type InputFault, readSite, readVisit } from "@earthbell/model";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { namesIn, readWhole } from "../input/source.ts";
import { definitions, type Entry } from "../terminal/definitions.ts";
import { heading, paragraph } from "../terminal/section.ts";
import { faultsText } from "../views/faults-text.ts";
import { findingText } from "../views/finding-text.ts";
import { type Registered, registerText } from "../views/register-text.ts";
import { mostBytes } from "./document-work.ts";
import { fileStatuses } from "./statuses.ts";

/** The day in the story of the demonstration. */
const storyDay = "2026-11-25";
const shownVisit = "creamery-2026-08-14.yaml";

export const demo: Command = {
  name: "demo",
  summary: "look at an invented set of sites and one search for a fault",
  operands: { shape: "", least: 0, most: 0, what: "" },
  options: [],
  description: [
    "The Tolvassay Islands Energy Co-operative is invented, and so are its members, arrays and faults. The demonstration assesses all its sites as one register and then reads one visit: where is the damaged place, and what is to be measured next.",
  ],
  example: { line: "earthbell demo", shows: "The register of all sites and one finding." },
  statuses: fileStatuses("the demonstration ran"),
  run: runDemo,
};

async function runDemo(call: Call): Promise<ExitStatus> {
  const { page, print, world } = call;
  const sites = await registeredSites(call);
  if (!sites) return exitStatus.wrongInput;
  await print([
    ...heading("An invented co-operative: every site, assessed", page),
    ...paragraph(
      `Everything here is invented, and judged for ${storyDay}. Coldest: the highest voltage on the coldest day. Below: the insulation at which the alarm must operate. Path: the one that stands best. A question mark: not known.`,
      page,
    ),
    "",
    ...registerText(sites, page),
    "",
  ]);
  const path = join(world.demoFolder, "visits", shownVisit);
  const visit = await readFrom(call, path, readVisit);
  if (!visit) return exitStatus.wrongInput;
  const sheet = { title: `A visit: ${shownVisit}`, page, wholePlan: false };
  await print([...heading("One alarm has operated: what do the readings say?", page), ""]);
  const finding = locate(visit);
  await print(findingText({ finding, visit, explanation: explain(visit, finding) }, sheet));
  await print(["", ...heading("Try next", page), ...definitions(tryNext(world.demoFolder), page)]);
  return exitStatus.made;
}

/** What to type next. Paths are written so that they work from the folder the reader is in. */
function tryNext(demoFolder: string): readonly Entry[] {
  const from = (...parts: string[]): string => {
    const path = join(demoFolder, ...parts);
    const near = relative("", path);
    return near.length < path.length ? near : path;
  };
  return [
    {
      term: `earthbell assess ${from("sites", "ferry-shed.yaml")}`,
      text: "a siren that cannot work, and why",
    },
    {
      term: `earthbell locate ${from("visits", "kirk-hall-2026-11-03.yaml")} --plan`,
      text: "a soft fault on a wet string",
    },
    { term: "earthbell rules --place AU-VIC --on 2019-03-14", text: "which edition binds there on that day" },
    { term: "earthbell help assess", text: "what a site file is for, and what comes out" },
  ];
}

async function registeredSites(call: Call): Promise<readonly Registered[] | null> {
  const folder = join(call.world.demoFolder, "sites");
  const names = await namesIn(folder);
  if ("code" in names) {
    await call.complain(faultsText([names], call.page));
    return null;
  }
  const sites: Registered[] = [];
  for (const name of names.filter((one) => one.endsWith(".yaml"))) {
    const site = await readFrom(call, join(folder, name), readSite);
    if (!site) return null;
    sites.push({ site, assessment: assessSite(site, { onDate: storyDay }) });
  }
  return sites;
}

type Read<Record> = (
  source: Uint8Array,
  file: string,
) =>
  | { readonly ok: true; readonly record: Record }
  | { readonly ok: false; readonly faults: readonly InputFault[] };

/** The record of a file, or null after its faults have been told. */
async function readFrom<Record>(call: Call, path: string, read: Read<Record>): Promise<Record | null> {
  const source = await readWhole(path, { world: call.world, most: mostBytes });
  const result = "code" in source ? { ok: false as const, faults: [source] } : read(source, path);
  if (result.ok) return result.record;
  await call.complain(faultsText(result.faults, call.page));
  return null;
}
