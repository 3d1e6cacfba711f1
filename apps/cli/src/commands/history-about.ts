import {
  FLEET_TRAITS,
  type FleetArray,
  type FleetFinding,
  type FleetTrait,
  type HistoryFinding,
  readFleet,
} from "@earthbell/engine";
import { type InputFault, readFleetTable } from "@earthbell/model";
import type { Call } from "../command.ts";
import { readWhole, sourceName } from "../input/source.ts";
import { faultsText } from "../views/faults-text.ts";
import { mostBytes } from "./document-work.ts";

/** Compares a fleet; what its arrays are comes from the table given with `--about`, or from names like site/array. */
export async function readAbout(
  call: Call,
  read: readonly { readonly finding: HistoryFinding }[],
): Promise<FleetFinding | null> {
  const file = call.arguments.value("about");
  const known = file === undefined ? { ok: true as const, record: new Map() } : await aboutFrom(call, file);
  if (!known.ok) {
    await call.complain(faultsText(known.faults, call.page));
    return null;
  }
  return readFleet(read.map(({ finding }) => ({ finding, ...traitsOf(finding.array, known.record) })));
}

type About = ReadonlyMap<string, Readonly<Record<string, string>>>;

async function aboutFrom(
  call: Call,
  file: string,
): Promise<
  | { readonly ok: true; readonly record: About }
  | { readonly ok: false; readonly faults: readonly InputFault[] }
> {
  const source = await readWhole(file, { world: call.world, most: mostBytes });
  if ("code" in source) return { ok: false, faults: [source] };
  return readFleetTable(source, sourceName(file), [...FLEET_TRAITS, "consequence"]);
}

function traitsOf(array: string, about: About): Omit<FleetArray, "finding"> {
  const row = about.get(array) ?? {};
  const traits: Partial<Record<FleetTrait, string>> = {};
  for (const trait of FLEET_TRAITS) if (row[trait] !== undefined) traits[trait] = row[trait];
  const site = /^(.+)\/[^/]+$/u.exec(array)?.[1];
  if (traits.site === undefined && site !== undefined) traits.site = site;
  const { consequence } = row;
  return consequence === undefined ? { traits } : { traits, consequence: Number(consequence) };
}
