import { instantText } from "../grounds.ts";
import type { Drill } from "./drill-record.ts";
import { beaconsOfDrill, beaconsText } from "./drill-beacon.ts";

/** What every drill message says, in this order, whatever the channel. */
export function drillWords(drill: Drill): { readonly subject: string; readonly text: string } {
  return {
    subject: `Drill, no fault: ${drill.site}, path ${drill.path}`,
    text: [
      `This is a drill. It reports no earth fault at ${drill.site}.`,
      `It rehearses path ${drill.path}, by which you would be told of one.`,
      `Acknowledge it by ${instantText(drill.answerByAt)}${beaconsOfDrill(drill).length === 0 ? "; there is nothing else to do" : ""}.`,
      ...beaconLines(drill),
      "If an alarm sounds or shows at the site meanwhile, or another message reports a fault, take that as real.",
    ].join("\n"),
  };
}

function beaconLines(drill: Drill): readonly string[] {
  const beacons = beaconsOfDrill(drill);
  if (beacons.length === 0) return [];
  const ids = beacons.map(({ beacon }) => beacon);
  const [it, goes, was] = beacons.length === 1 ? ["it", "goes", "was"] : ["they", "go", "were"];
  const until = Math.max(...beacons.map(({ litUntilAt }) => litUntilAt));
  const alike = beacons.filter(({ saysDrill }) => !saysDrill).map(({ beacon }) => beacon);
  return [
    `For this drill ${beaconsText(ids)} ${beacons.length === 1 ? "burns" : "burn"} until ${instantText(until)} at the longest; ${it} ${goes} out sooner once everybody has acknowledged or ${it} ${was} seen. Whoever sees ${beacons.length === 1 ? "it" : "one"} burn says so at the desk, on the page of the site.`,
    ...(alike.length === 0
      ? []
      : [`Of ${beaconsText(alike)} a drill cannot be told from a fault: the desk says which it is.`]),
  ];
}
