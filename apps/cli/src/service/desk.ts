import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { Site } from "@earthbell/engine";
import { readSite } from "@earthbell/model";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { namesIn } from "../input/source.ts";
import { heading, paragraph } from "../terminal/section.ts";
import { padEnd } from "../terminal/wrap.ts";
import { paperTools } from "../paper/desk-paper-tools.ts";
import { version } from "../version.ts";
import { faultsText } from "../views/faults-text.ts";
import { fileStatuses } from "../commands/statuses.ts";
import { aborted } from "./aborted.ts";
import { lineLog } from "./line-log.ts";
import { withDesk } from "./service-fault.ts";
import { wholeNumber } from "./whole-number.ts";

export const desk: Command = {
  name: "desk",
  summary: "run the service that listens to arrays, tells people of faults, and knows when it has gone deaf",
  operands: { shape: "", least: 0, most: 0, what: "" },
  options: [
    {
      name: "data",
      value: "DIR",
      help: "the folder of the desk, with desk.yaml; left out: the demonstration, with simulated devices",
    },
    { name: "host", value: "ADDRESS", help: "listen at this address instead of the one in desk.yaml" },
    { name: "port", value: "PORT", help: "listen at this port instead of the one in desk.yaml; 0 for any" },
  ],
  description: [
    "Without --data the desk runs the invented co-operative: its inverters are simulated behind real Modbus connections, and messages are laid into a folder instead of being sent. Everything goes when it stops.",
    "With --data it runs for good from a folder that holds desk.yaml (earthbell schema desk), sites/ with site files, and rules/ with your own rule packs; the store is made there. It runs until it is interrupted, and then stops in order.",
    "The desk only reads from devices. It gives notice; it switches nothing off, and it does not replace the alarm that the rules require at the site.",
  ],
  example: {
    line: "earthbell desk",
    shows: "The demonstration at work: its address, a token, and what happens.",
  },
  statuses: fileStatuses("the desk ran and was stopped in order"),
  run: runDeskCommand,
};

async function runDeskCommand(call: Call): Promise<ExitStatus> {
  const port = await wholeNumber(call, { option: "port", least: 0, most: 65_535, command: "desk" });
  if (port === null) return exitStatus.wrongInput;
  const host = call.arguments.value("host");
  const listenAt = { ...(host === undefined ? {} : { host }), ...(port === undefined ? {} : { port }) };
  return withDesk(call, async (service) => {
    const clock = service.machineClock;
    const { environment, random, err, webFolder } = call.world;
    const around = {
      ...(webFolder === undefined ? {} : { webFolder }),
      environment,
      clock,
      random,
      log: lineLog(err, () => clock.now()),
      version,
      listenAt,
      paperTools: paperTools(),
    };
    const data = call.arguments.value("data");
    return data === undefined ? demoDesk(call, service, around) : folderDesk(call, service, around, data);
  });
}

type Service = typeof import("@earthbell/desk");
type Around = Parameters<Service["serveFolder"]>[1];

async function folderDesk(call: Call, service: Service, around: Around, data: string): Promise<ExitStatus> {
  const { page, print, complain, world } = call;
  const stopped = world.stopSignal();
  const served = await service.serveFolder(data, around);
  if (served.faults.length > 0) await complain(faultsText(served.faults, page));
  if (!served.ok) return exitStatus.wrongInput;
  const { url, joinUrl } = served.desk;
  await print([
    ...paragraph(`The desk is at work at ${url}. It stops in order when it is interrupted.`, page),
    // While nobody can sign in, the first one who does makes an account by this link.
    ...(joinUrl === null ? [] : uncut([{ term: "sign in", text: joinUrl }])),
  ]);
  await aborted(stopped);
  await served.desk.stop();
  return exitStatus.made;
}

async function demoDesk(call: Call, service: Service, around: Around): Promise<ExitStatus> {
  const { page, print, complain, world } = call;
  const stopped = world.stopSignal();
  const read = await demoSites(world.demoFolder);
  if (!read.ok) {
    await complain(faultsText(read.faults, page));
    return exitStatus.wrongInput;
  }
  const demo = await service.serveDemo(world.demoFolder, read.sites, around);
  const { url, store, joinUrl } = demo.desk;
  const token = await service.makePersonToken(store, "Guest of the demonstration", {
    by: "earthbell desk",
    at: around.clock.now(),
  });
  await print([
    ...heading("The desk of an invented co-operative", page),
    ...paragraph(
      `${String(read.sites.length)} sites, their inverters simulated; it is early morning there. Messages are laid into a folder and go to nobody.`,
      page,
    ),
    "",
    ...uncut([
      { term: "address", text: url },
      { term: "sign in", text: joinUrl ?? url },
      { term: "token", text: token },
      { term: "messages", text: demo.tray },
      { term: "try", text: `curl -H "Authorization: Bearer ${token}" ${url}/api/cases` },
      { term: "also", text: `${url}/healthz ${url}/metrics ${url}/openapi.json` },
    ]),
    "",
    ...paragraph("What happens follows, a line each. Interrupt it to stop.", page),
  ]);
  await aborted(stopped);
  await demo.desk.stop();
  return exitStatus.made;
}

/** Never wrapped, however narrow the terminal: half a link opens nothing. */
function uncut(rows: readonly { readonly term: string; readonly text: string }[]): string[] {
  const width = Math.max(...rows.map(({ term }) => term.length));
  return rows.map(({ term, text }) => `  ${padEnd(term, width)}  ${text}`);
}

type DemoSites =
  | { readonly ok: true; readonly sites: readonly Site[] }
  | { readonly ok: false; readonly faults: Parameters<typeof faultsText>[0] };

async function demoSites(demoFolder: string): Promise<DemoSites> {
  const folder = join(demoFolder, "sites");
  const names = await namesIn(folder);
  if ("code" in names) return { ok: false, faults: [names] };
  const sites: Site[] = [];
  for (const name of names.filter((one) => one.endsWith(".yaml"))) {
    const file = join(folder, name);
    const read = readSite(await readFile(file), file);
    if (!read.ok) return read;
    sites.push(read.record);
  }
  return { ok: true, sites };
}
