import type { Site } from "@earthbell/engine";
import { readSite } from "@earthbell/model";
import { calendarFeed } from "@earthbell/papers";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { readWhole, sourceName } from "../input/source.ts";
import { faultsText } from "../views/faults-text.ts";
import { dayAsked, onOption } from "./day-asked.ts";
import { mostBytes } from "./document-work.ts";
import { fileStatuses } from "./statuses.ts";

export const calendar: Command = {
  name: "calendar",
  summary: "print what is due at these sites as an iCalendar feed: proofs, drills, reviews, ends of posts",
  operands: { shape: "SITE…", least: 1, most: Infinity, what: "a site file, or - for standard input" },
  options: [onOption],
  description: [
    "One whole-day event for each thing due. A proof is due again after twelve months, a first proof and a first notice to the owner today.",
    "Made again after a proof, the feed moves the event of that proof instead of adding another one.",
  ],
  example: {
    line: "earthbell calendar demo/sites/creamery.yaml demo/sites/ferry-shed.yaml > due.ics",
    shows: "What is due at two invented sites, for any calendar.",
  },
  statuses: fileStatuses("the feed was printed"),
  run: runCalendar,
};

async function runCalendar(call: Call): Promise<ExitStatus> {
  const { arguments: given, world, complain, page } = call;
  const onDate = await dayAsked(call, calendar.name);
  if (onDate === null) return exitStatus.wrongInput;
  const sites: Site[] = [];
  let status: ExitStatus = exitStatus.made;
  for (const operand of given.operands) {
    const bytes = await readWhole(operand, { world, most: mostBytes });
    const read =
      "code" in bytes ? { ok: false as const, faults: [bytes] } : readSite(bytes, sourceName(operand));
    if (read.ok) sites.push(read.record);
    else {
      await complain(faultsText(read.faults, page));
      status = exitStatus.wrongInput;
    }
  }
  // A feed that lacks a site would take its events out of somebody's calendar.
  if (status === exitStatus.made) await world.out.write(calendarFeed(sites, onDate));
  return status;
}
